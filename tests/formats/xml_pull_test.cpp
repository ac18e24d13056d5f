#include "formats/xml_pull.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace glidewright {
namespace {

/// The whole document as one line: "<a" start, ">a" end, "'text'", "." end of document, "!" error, "~"
/// truncated.
std::string events(std::string_view document) {
  XmlPull xml(document);
  std::string told;
  for (;;) {
    switch (xml.next()) {
      case XmlPull::Event::element_start:
        told += "<" + std::string(xml.name());
        break;
      case XmlPull::Event::element_end:
        told += ">" + std::string(xml.name());
        break;
      case XmlPull::Event::text:
        told += "'" + std::string(xml.text()) + "'";
        break;
      case XmlPull::Event::end_of_document:
        return told + ".";
      case XmlPull::Event::error:
        return told + (xml.is_truncated() ? "~" : "!");
    }
  }
}

TEST(XmlPull, ElementsTextAndPrefixes) {
  EXPECT_EQ(events("<?xml version='1.0'?>\n<a><x:b>one</x:b><c/></a>\n"), "<a<b'one'>b<c>c>a.");
  EXPECT_EQ(events("\xEF\xBB\xBF<a/>"), "<a>a.");
  EXPECT_EQ(events("<!DOCTYPE a SYSTEM \"a.dtd\"><a></a >"), "<a>a.");
}

// XML 1.0 sec. 4.6 and 2.7: predefined entities, character references, CDATA.
TEST(XmlPull, EntitiesAndCdataBecomeOneText) {
  EXPECT_EQ(events("<a>1 &lt; 2 &amp;&#65;&#x42;&quot;&apos;&gt;</a>"), "<a'1 < 2 &AB\"'>'>a.");
  EXPECT_EQ(events("<a>one<!-- no -->two<![CDATA[<&>]]>three</a>"), "<a'onetwo<&>three'>a.");
  EXPECT_EQ(events("<a>&#xE9;&#8364;&#x1F600;</a>"), "<a'\xC3\xA9\xE2\x82\xAC\xF0\x9F\x98\x80'>a.");
}

TEST(XmlPull, Attributes) {
  XmlPull xml("<p lat=\"48.1\" x:lon = '11.5' note='a&amp;b'/>");
  ASSERT_EQ(xml.next(), XmlPull::Event::element_start);
  EXPECT_EQ(*xml.attribute("lat"), "48.1");
  EXPECT_EQ(*xml.attribute("lon"), "11.5");
  EXPECT_EQ(*xml.attribute("note"), "a&b");
  EXPECT_FALSE(xml.attribute("ele"));
}

TEST(XmlPull, TextStaysValidOverTheEndTag) {
  XmlPull xml("<a>7&#50;</a>");
  xml.next();
  ASSERT_EQ(xml.next(), XmlPull::Event::text);
  const auto text = xml.text();
  ASSERT_EQ(xml.next(), XmlPull::Event::element_end);
  EXPECT_EQ(text, "72");
}

TEST(XmlPull, RefusesBrokenDocuments) {
  for (const char* document : {"", "   ", "text", "<a></b>", "</a>", "<a/><b/>", "<a/>text", "<a>&nbsp;</a>",
                               "<a>& </a>", "<a>&#0;</a>", "<a>&#xD800;</a>", "<a>&#x110000;</a>", "<a b=c/>",
                               "<a b/>", "<a>< b></a>", "<a></a b>"}) {
    EXPECT_EQ(events(document).back(), '!') << document;
  }
}

TEST(XmlPull, TellsTruncationApart) {
  const std::string document = "<?xml version='1.0'?><!-- c --><a b='1'><c>te&amp;xt</c><![CDATA[d]]></a>";
  for (std::size_t length = document.find("<a") + 2; length < document.size(); ++length) {
    EXPECT_EQ(events(document.substr(0, length)).back(), '~') << document.substr(0, length);
  }
}

// The "billion laughs": ten levels of ten-fold entities would be 10^9 copies.
TEST(XmlPull, EntityBombIsRefusedUnread) {
  const auto told = events("<!DOCTYPE a [<!ENTITY b \"bb\"><!ENTITY c \"&b;&b;\">]><a>&c;</a>");
  EXPECT_EQ(told, "!");
}

TEST(XmlPull, DepthIsLimited) {
  std::string document;
  for (std::size_t i = 0; i < XmlPull::k_depth_limit; ++i) document += "<a>";
  EXPECT_EQ(events(document).back(), '~');
  EXPECT_EQ(events(document + "<a>").back(), '!');
}

RC_GTEST_PROP(XmlPull, AnyBytesEnd, ()) {
  const auto pieces = *rc::gen::container<std::vector<std::string>>(rc::gen::element<std::string>(
      "<", ">", "</", "/>", "a", " b='1'", "&", "&lt;", "&#x41;", ";", "<![CDATA[", "]]>", "<!--", "-->",
      "<?", "?>", "<!DOCTYPE", "[", "\n", "'", "\"", "=", "\x00", "\xFF"));
  std::string document;
  for (const auto& piece : pieces) document += piece;
  const auto told = events(document);
  const bool sound = told.back() == '.' || told.back() == '!' || told.back() == '~';
  RC_ASSERT(sound);
}

}  // namespace
}  // namespace glidewright
