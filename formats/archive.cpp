#include "formats/archive.hpp"

#include <fmt/format.h>
#include <zip.h>

#include <memory>
#include <optional>

#include "formats/shown.hpp"
#include "formats/zip_entries.hpp"

namespace glidewright {
namespace {

struct Discard {
  void operator()(zip_t* archive) const { zip_discard(archive); }
};
struct FreeSource {
  void operator()(zip_source_t* source) const { zip_source_free(source); }
};

Error cannot_pack(const std::string& what) {
  return {"the archive cannot be packed: " + what};
}

bool leads_out(std::string_view entry) {
  return entry.empty() || entry.front() == '/' || entry.find('\\') != std::string_view::npos ||
         entry == ".." || entry.substr(0, 3) == "../" || entry.find("/../") != std::string_view::npos;
}

std::optional<std::string> add_files(zip_t* archive, const ArchivedFiles& files) {
  for (const auto& [name, bytes] : files) {
    zip_source_t* source = zip_source_buffer(archive, bytes.data(), bytes.size(), 0);
    const zip_int64_t index =
        source == nullptr ? -1 : zip_file_add(archive, name.c_str(), source, ZIP_FL_ENC_UTF_8);
    if (index < 0) {
      if (source != nullptr) zip_source_free(source);
      return zip_strerror(archive);
    }
    // 1980-01-01, the first day that zip knows: the same records give the same archive.
    zip_file_set_dostime(archive, static_cast<zip_uint64_t>(index), 0, (1 << 5) | 1, 0);
  }
  return std::nullopt;
}

std::string bytes_of(zip_source_t* source) {
  std::string bytes;
  zip_stat_t found;
  if (zip_source_stat(source, &found) != 0 || zip_source_open(source) != 0) return bytes;
  bytes.resize(found.size);
  const zip_int64_t got = zip_source_read(source, bytes.data(), bytes.size());
  bytes.resize(got < 0 ? 0 : static_cast<std::size_t>(got));
  zip_source_close(source);
  return bytes;
}

}  // namespace

Result<std::string> zip_archive(const ArchivedFiles& files, std::size_t largest_bytes) {
  std::size_t left = largest_bytes;
  for (const auto& [name, bytes] : files) {
    if (bytes.size() > left)
      return cannot_pack(fmt::format("it would unpack to more than {} MB", largest_bytes >> 20));
    left -= bytes.size();
  }
  zip_error_t error;
  zip_error_init(&error);
  // Kept: closing the archive would free it with the bytes in it.
  const std::unique_ptr<zip_source_t, FreeSource> target(zip_source_buffer_create(nullptr, 0, 0, &error));
  if (!target) return cannot_pack(zip_error_strerror(&error));
  std::unique_ptr<zip_t, Discard> archive(zip_open_from_source(target.get(), ZIP_TRUNCATE, &error));
  if (!archive) return cannot_pack(zip_error_strerror(&error));
  zip_source_keep(target.get());
  if (const auto failed = add_files(archive.get(), files)) return cannot_pack(*failed);
  if (zip_close(archive.get()) != 0) return cannot_pack(zip_strerror(archive.get()));
  archive.release();
  return bytes_of(target.get());
}

Result<ArchivedFiles> unzip_archive(std::string_view bytes, std::string_view name,
                                    std::size_t largest_bytes) {
  ZipEntries archive(bytes);
  if (!archive.names())
    return Error{fmt::format("{}: is no zip archive, or a damaged one; a whole one was expected", name)};
  ArchivedFiles files;
  std::size_t left = largest_bytes;
  const auto& entries = *archive.names();
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const std::string& entry = entries[i];
    if (!entry.empty() && entry.back() == '/') continue;
    if (leads_out(entry) || files.count(entry) != 0)
      return Error{fmt::format("{}: the name {} in the archive is none of ours", name, shown(entry))};
    const Error damaged{fmt::format("{}: {} in the archive is damaged", name, shown(entry))};
    if (archive.open(i) != ZipEntries::Opened::yes) return damaged;
    std::string& out = files[entry];
    for (;;) {
      const auto piece = archive.next();
      if (!piece) return damaged;
      if (piece->empty()) break;
      if (piece->size() > left)
        return Error{fmt::format("{}: unpacks to more than {} MB", name, largest_bytes >> 20)};
      left -= piece->size();
      out += *piece;
    }
  }
  return files;
}

}  // namespace glidewright
