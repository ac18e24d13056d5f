#include "formats/xml_pull.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cstdint>

#include "formats/shown.hpp"

namespace glidewright {
namespace {

bool is_white_space(char c) {
  return c == ' ' || c == '\n' || c == '\t' || c == '\r';
}

bool ends_name(char c) {
  return is_white_space(c) || c == '>' || c == '/' || c == '=' || c == '<' || c == '"' || c == '\'' ||
         c == '&';
}

bool is_white_space(std::string_view text) {
  for (const char c : text) {
    if (!is_white_space(c)) return false;
  }
  return true;
}

std::string_view without_prefix(std::string_view name) {
  const auto colon = name.rfind(':');
  return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

void append_utf8(std::uint32_t point, std::string& into) {
  const auto put = [&](std::uint32_t byte) { into += static_cast<char>(static_cast<unsigned char>(byte)); };
  if (point < 0x80) {
    put(point);
  } else if (point < 0x800) {
    put(0xC0 | (point >> 6));
    put(0x80 | (point & 0x3F));
  } else if (point < 0x10000) {
    put(0xE0 | (point >> 12));
    put(0x80 | ((point >> 6) & 0x3F));
    put(0x80 | (point & 0x3F));
  } else {
    put(0xF0 | (point >> 18));
    put(0x80 | ((point >> 12) & 0x3F));
    put(0x80 | ((point >> 6) & 0x3F));
    put(0x80 | (point & 0x3F));
  }
}

std::optional<std::uint32_t> numeric_entity(std::string_view digits) {
  int base = 10;
  if (!digits.empty() && digits.front() == 'x') {
    base = 16;
    digits.remove_prefix(1);
  }
  std::uint32_t point = 0;
  const auto end = digits.data() + digits.size();
  const auto result = std::from_chars(digits.data(), end, point, base);
  const bool surrogate = point >= 0xD800 && point <= 0xDFFF;
  if (result.ec != std::errc() || result.ptr != end || point == 0 || point > 0x10FFFF || surrogate) {
    return std::nullopt;
  }
  return point;
}

std::optional<std::uint32_t> entity(std::string_view name) {
  if (name == "lt") return '<';
  if (name == "gt") return '>';
  if (name == "amp") return '&';
  if (name == "quot") return '"';
  if (name == "apos") return '\'';
  if (!name.empty() && name.front() == '#') return numeric_entity(name.substr(1));
  return std::nullopt;
}

}  // namespace

XmlPull::XmlPull(std::string_view bytes) : bytes_(bytes) {
  if (starts_with("\xEF\xBB\xBF")) at_ = 3;
}

XmlPull::Event XmlPull::fail(std::string sentence) {
  if (error_.empty()) error_ = std::move(sentence);
  return Event::error;
}

XmlPull::Event XmlPull::fail_truncated(std::string_view inside) {
  if (error_.empty()) truncated_ = true;
  at_ = bytes_.size();
  return fail(fmt::format("the file ends inside {}", inside));
}

bool XmlPull::starts_with(std::string_view token) const {
  return bytes_.substr(at_, token.size()) == token;
}

void XmlPull::skip_white_space() {
  while (at_ < bytes_.size() && is_white_space(bytes_[at_])) ++at_;
}

std::string_view XmlPull::read_name() {
  const std::size_t begin = at_;
  while (at_ < bytes_.size() && !ends_name(bytes_[at_])) ++at_;
  return bytes_.substr(begin, at_ - begin);
}

XmlPull::Event XmlPull::next() {
  if (!error_.empty()) return Event::error;
  if (close_pending_) {
    open_.pop_back();
    close_pending_ = false;
  }
  if (end_tag_pending_) {
    end_tag_pending_ = false;
    close_pending_ = true;
    return Event::element_end;
  }
  if (const auto event = read_text()) return *event;
  event_offset_ = at_;
  if (at_ >= bytes_.size()) {
    if (!open_.empty()) return fail_truncated(fmt::format("<{}>", shown(open_.back())));
    return seen_root_ ? Event::end_of_document : fail("no XML element");
  }
  return starts_with("</") ? read_end_tag() : read_start_tag();
}

/// Everything up to the next tag. None where nothing but white space stood there.
std::optional<XmlPull::Event> XmlPull::read_text() {
  event_offset_ = at_;
  std::string_view only_piece;
  int pieces = 0;
  const auto add = [&](std::string_view piece) {
    if (pieces++ == 0) {
      only_piece = piece;
      return;
    }
    if (pieces == 2) text_buffer_.assign(only_piece);
    text_buffer_.append(piece);
  };
  std::string decoded;
  while (at_ < bytes_.size()) {
    if (bytes_[at_] != '<') {
      const auto end = std::min(bytes_.find('<', at_), bytes_.size());
      const auto raw = bytes_.substr(at_, end - at_);
      at_ = end;
      // Text without a tag after it may be half a number or half an entity.
      if (end == bytes_.size() && !open_.empty())
        return fail_truncated(fmt::format("<{}>", shown(open_.back())));
      if (raw.find('&') == std::string_view::npos) {
        if (pieces > 0 || !is_white_space(raw)) add(raw);
        continue;
      }
      decoded.clear();
      if (!decode(raw, decoded)) return Event::error;
      if (pieces == 0) add({});  // makes sure that the decoded text lands in the buffer
      add(decoded);
    } else if (at_ + 1 < bytes_.size() && bytes_[at_ + 1] != '!' && bytes_[at_ + 1] != '?') {
      break;  // a tag, which is nearly always so
    } else if (starts_with("<![CDATA[")) {
      const auto end = bytes_.find("]]>", at_);
      if (end == std::string_view::npos) return fail_truncated("CDATA");
      add(bytes_.substr(at_ + 9, end - at_ - 9));
      at_ = end + 3;
    } else if (starts_with("<!--")) {
      if (!skip_markup("<!--", "-->", "a comment")) return Event::error;
    } else if (starts_with("<?")) {
      if (!skip_markup("<?", "?>", "a processing instruction")) return Event::error;
    } else if (starts_with("<!DOCTYPE")) {
      if (!skip_document_type()) return Event::error;
    } else {
      break;
    }
  }
  if (pieces == 0) return std::nullopt;
  text_ = pieces == 1 ? only_piece : std::string_view(text_buffer_);
  if (open_.empty()) return fail(fmt::format("text '{}' outside the root element", shown(text_)));
  return Event::text;
}

bool XmlPull::skip_markup(std::string_view opening, std::string_view closing, std::string_view what) {
  const auto end = bytes_.find(closing, at_ + opening.size());
  if (end == std::string_view::npos) {
    fail_truncated(what);
    return false;
  }
  at_ = end + closing.size();
  return true;
}

bool XmlPull::skip_document_type() {
  const auto end = bytes_.find_first_of("[>", at_);
  if (end == std::string_view::npos) {
    fail_truncated("the document type");
    return false;
  }
  if (bytes_[end] == '[') {
    fail("a document type with declarations of its own, which is refused; expected plain elements");
    return false;
  }
  at_ = end + 1;
  return true;
}

bool XmlPull::decode(std::string_view raw, std::string& into) {
  for (std::size_t at = 0; at < raw.size();) {
    const auto ampersand = std::min(raw.find('&', at), raw.size());
    into.append(raw.substr(at, ampersand - at));
    if (ampersand == raw.size()) break;
    const auto after = raw.substr(ampersand + 1, 12);  // the longest is "#x10FFFF;", with room for zeros
    const auto semicolon = after.find(';');
    const auto point =
        semicolon == std::string_view::npos ? std::nullopt : entity(after.substr(0, semicolon));
    if (!point) {
      fail(fmt::format("'&{}' is no entity that XML itself knows; expected &amp; for a plain &",
                       shown(after.substr(0, std::min(semicolon, after.size())))));
      return false;
    }
    append_utf8(*point, into);
    at = ampersand + 1 + semicolon + 1;
  }
  return true;
}

XmlPull::Event XmlPull::read_start_tag() {
  if (open_.empty() && seen_root_) return fail("a second root element");
  if (open_.size() >= k_depth_limit)
    return fail(fmt::format("elements nested deeper than {}", k_depth_limit));
  ++at_;
  const auto written = read_name();
  if (written.empty()) {
    if (at_ >= bytes_.size()) return fail_truncated("a tag");
    return fail("'<' that starts no tag; expected &lt; for a plain <");
  }
  if (!read_attributes()) return Event::error;
  name_ = without_prefix(written);
  open_.push_back(written);
  seen_root_ = true;
  return Event::element_start;
}

/// Up to and with the end of the tag.
bool XmlPull::read_attributes() {
  attributes_.clear();
  const auto ends_early = [&] {
    if (at_ < bytes_.size()) return false;
    fail_truncated("a tag");
    return true;
  };
  for (;;) {
    skip_white_space();
    if (ends_early()) return false;
    if (bytes_[at_] == '>') {
      ++at_;
      return true;
    }
    if (bytes_[at_] == '/' && at_ + 1 < bytes_.size() && bytes_[at_ + 1] == '>') {
      at_ += 2;
      end_tag_pending_ = true;
      return true;
    }
    if (at_ + 1 == bytes_.size() && bytes_[at_] == '/') ++at_;
    if (ends_early()) return false;
    const auto attribute_name = read_name();
    skip_white_space();
    if (ends_early()) return false;
    if (attribute_name.empty() || bytes_[at_] != '=') {
      fail("a tag that cannot be read; expected name=\"value\"");
      return false;
    }
    ++at_;
    skip_white_space();
    if (ends_early()) return false;
    const char quote = bytes_[at_];
    if (quote != '"' && quote != '\'') {
      fail(fmt::format("attribute {} without quotes", shown(attribute_name)));
      return false;
    }
    const auto end = bytes_.find(quote, ++at_);
    if (end == std::string_view::npos) {
      fail_truncated("an attribute");
      return false;
    }
    attributes_.push_back({without_prefix(attribute_name), bytes_.substr(at_, end - at_)});
    at_ = end + 1;
  }
}

XmlPull::Event XmlPull::read_end_tag() {
  at_ += 2;
  const auto written = read_name();
  skip_white_space();
  if (at_ >= bytes_.size()) return fail_truncated("a tag");
  if (bytes_[at_] != '>') return fail("an end tag that cannot be read");
  if (open_.empty() || open_.back() != written) {
    return fail(open_.empty()
                    ? fmt::format("</{}> closes nothing", shown(written))
                    : fmt::format("</{}> where </{}> was expected", shown(written), shown(open_.back())));
  }
  ++at_;
  name_ = without_prefix(written);
  close_pending_ = true;
  return Event::element_end;
}

std::optional<std::string_view> XmlPull::attribute(std::string_view local_name) {
  for (const auto& candidate : attributes_) {
    if (candidate.name != local_name) continue;
    if (candidate.raw.find('&') == std::string_view::npos) return candidate.raw;
    attribute_buffer_.clear();
    if (!decode(candidate.raw, attribute_buffer_)) return std::nullopt;
    return attribute_buffer_;
  }
  return std::nullopt;
}

}  // namespace glidewright
