#include "formats/xml_pull.hpp"
#include "fuzz/require.hpp"

/// Any bytes as XML: starts and ends are paired, and the events are never more than the bytes can hold.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using Event = glidewright::XmlPull::Event;
  glidewright::XmlPull xml(as_text(data, size));
  std::size_t events = 0;
  std::size_t open = 0;
  for (;;) {
    require(++events <= 2 * size + 2);
    const auto event = xml.next();
    if (event == Event::element_start) {
      require(++open == xml.depth());
      (void)xml.attribute("lat");
    } else if (event == Event::element_end) {
      require(open-- == xml.depth());
    } else if (event == Event::text) {
      require(xml.text().size() <= size);
    } else if (event == Event::end_of_document) {
      require(open == 0);
      return 0;
    } else {
      require(!xml.error().empty() && xml.next() == Event::error);
      return 0;
    }
  }
}
