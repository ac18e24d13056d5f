#pragma once
// Packs what a test wants to read packed.

#include <zip.h>
#include <zlib.h>

#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace glidewright {

/// One member of gzip.
inline std::string gzipped(const std::string& bytes) {
  z_stream stream{};
  constexpr int k_with_gzip_header = 16 + MAX_WBITS;
  if (deflateInit2(&stream, 6, Z_DEFLATED, k_with_gzip_header, 8, Z_DEFAULT_STRATEGY) != Z_OK)
    throw std::runtime_error("zlib cannot start");
  std::string out(deflateBound(&stream, bytes.size()) + 32, '\0');
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
  stream.avail_in = static_cast<uInt>(bytes.size());
  stream.next_out = reinterpret_cast<Bytef*>(out.data());
  stream.avail_out = static_cast<uInt>(out.size());
  const int code = deflate(&stream, Z_FINISH);
  out.resize(out.size() - stream.avail_out);
  deflateEnd(&stream);
  if (code != Z_STREAM_END) throw std::runtime_error("zlib cannot pack");
  return out;
}

/// A zip archive with these files in this order.
inline std::string zipped(const std::vector<std::pair<std::string, std::string>>& files) {
  zip_error_t error;
  zip_error_init(&error);
  zip_source_t* archive_bytes = zip_source_buffer_create(nullptr, 0, 0, &error);
  zip_source_keep(archive_bytes);
  zip_t* archive = zip_open_from_source(archive_bytes, ZIP_TRUNCATE, &error);
  if (archive == nullptr) throw std::runtime_error("libzip cannot start");
  for (const auto& [name, bytes] : files) {
    zip_file_add(archive, name.c_str(), zip_source_buffer(archive, bytes.data(), bytes.size(), 0), 0);
  }
  if (zip_close(archive) != 0) throw std::runtime_error("libzip cannot pack");
  zip_stat_t about;
  zip_stat_init(&about);
  zip_source_stat(archive_bytes, &about);
  std::string out(about.size, '\0');
  zip_source_open(archive_bytes);
  zip_source_read(archive_bytes, out.data(), out.size());
  zip_source_close(archive_bytes);
  zip_source_free(archive_bytes);
  return out;
}

}  // namespace glidewright
