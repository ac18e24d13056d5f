#pragma once
// A small streaming reader for XML: one event at a time over bytes that stay where they are.

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace glidewright {

/// Pull reader over a whole document in memory (UTF-8).
///
/// Invariants: never reads outside the bytes, whatever they are; never nests deeper than k_depth_limit; time
/// and memory are linear in the input. Names come without their namespace prefix. Text that is only white
/// space is not reported; text, CDATA and entities between two tags come as one text event, comments and
/// processing instructions inside it skipped. Only the five predefined and numeric entities are known; a
/// document type that declares anything of its own is refused, so nothing can expand.
class XmlPull {
 public:
  enum class Event { element_start, element_end, text, end_of_document, error };
  static constexpr std::size_t k_depth_limit = 64;

  explicit XmlPull(std::string_view bytes);

  /// After error or end_of_document it stays there.
  Event next();

  /// Local name of the element that started or ended.
  std::string_view name() const { return name_; }
  /// Of the text event; stays valid until the next text event.
  std::string_view text() const { return text_; }
  /// Value of an attribute of the element that started; valid until the next call of this function.
  std::optional<std::string_view> attribute(std::string_view local_name);

  /// How many elements are open, this one included.
  std::size_t depth() const { return open_.size(); }
  /// Byte at which the event begins.
  std::size_t offset() const { return event_offset_; }
  /// What is wrong, without the place.
  const std::string& error() const { return error_; }
  /// The error is only that the bytes end too early.
  bool is_truncated() const { return truncated_; }

 private:
  struct Attribute {
    std::string_view name;
    std::string_view raw;
  };

  Event fail(std::string sentence);
  Event fail_truncated(std::string_view inside);
  std::optional<Event> read_text();
  Event read_start_tag();
  Event read_end_tag();
  bool read_attributes();
  bool skip_markup(std::string_view opening, std::string_view closing, std::string_view what);
  bool skip_document_type();
  bool decode(std::string_view raw, std::string& into);
  bool starts_with(std::string_view token) const;
  void skip_white_space();
  std::string_view read_name();

  std::string_view bytes_;
  std::size_t at_ = 0;
  std::size_t event_offset_ = 0;
  std::vector<std::string_view> open_;  // names as written, prefix included
  std::vector<Attribute> attributes_;
  std::string_view name_;
  std::string_view text_;
  std::string text_buffer_;
  std::string attribute_buffer_;
  std::string error_;
  bool truncated_ = false;
  bool end_tag_pending_ = false;  // <a/> is a start and an end
  bool close_pending_ = false;    // the element that ended is still in open_ while its end is reported
  bool seen_root_ = false;
};

}  // namespace glidewright
