// The page has neither zlib nor libzip: packed logs are known and refused.

#include "formats/unpack.hpp"

namespace glidewright {

bool is_packed(std::string_view bytes) {
  return bytes.substr(0, 2) == "\x1F\x8B" || bytes.substr(0, 4) == "PK\x03\x04";
}

Result<Unpacked> unpack(std::string_view, std::string_view name, const UnpackLimits&) {
  return Error{std::string(name) + ": is packed; the page reads logs that are not, so unpack it first"};
}

Result<Unpacked> unpack_where_packed(std::string bytes, std::string_view name) {
  if (is_packed(bytes)) return unpack(bytes, name, {});
  return Unpacked{std::move(bytes), std::string(name), {}};
}

}  // namespace glidewright
