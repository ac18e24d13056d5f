#include "formats/zip_entries.hpp"

#include <zip.h>

#include <array>

namespace glidewright {
namespace {

struct CloseArchive {
  void operator()(zip_t* archive) const { zip_discard(archive); }
};
struct CloseEntry {
  void operator()(zip_file_t* entry) const { zip_fclose(entry); }
};
using Archive = std::unique_ptr<zip_t, CloseArchive>;

Archive open_archive(std::string_view bytes) {
  zip_error_t ignored;
  zip_error_init(&ignored);
  zip_source_t* source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &ignored);
  zip_t* archive = source == nullptr ? nullptr : zip_open_from_source(source, ZIP_RDONLY, &ignored);
  if (archive == nullptr && source != nullptr) zip_source_free(source);
  zip_error_fini(&ignored);
  return Archive(archive);
}

}  // namespace

struct ZipEntries::State {
  Archive archive;
  std::unique_ptr<zip_file_t, CloseEntry> entry;  // closed before its archive
  std::optional<std::vector<std::string>> names;
  std::array<char, 1 << 16> piece{};
};

ZipEntries::ZipEntries(std::string_view bytes) : state_(std::make_unique<State>()) {
  state_->archive = open_archive(bytes);
  if (!state_->archive) return;
  auto& names = state_->names.emplace();
  const auto count = zip_get_num_entries(state_->archive.get(), 0);
  for (zip_int64_t i = 0; i < count; ++i) {
    const char* written = zip_get_name(state_->archive.get(), static_cast<zip_uint64_t>(i), 0);
    names.emplace_back(written == nullptr ? "" : written);
  }
}

ZipEntries::~ZipEntries() = default;

const std::optional<std::vector<std::string>>& ZipEntries::names() const {
  return state_->names;
}

ZipEntries::Opened ZipEntries::open(std::size_t index) {
  zip_t* archive = state_->archive.get();
  state_->entry.reset(zip_fopen_index(archive, index, 0));
  if (state_->entry) return Opened::yes;
  const int code = zip_error_code_zip(zip_get_error(archive));
  return code == ZIP_ER_NOPASSWD || code == ZIP_ER_ENCRNOTSUPP ? Opened::locked : Opened::unreadable;
}

std::optional<std::string_view> ZipEntries::next() {
  const auto got = zip_fread(state_->entry.get(), state_->piece.data(), state_->piece.size());
  if (got < 0) return std::nullopt;
  return std::string_view(state_->piece.data(), static_cast<std::size_t>(got));
}

}  // namespace glidewright
