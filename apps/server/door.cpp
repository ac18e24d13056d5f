#include "apps/server/door.hpp"

#include <algorithm>

namespace glidewright {

bool is_loopback(const std::string& address) {
  return address == "localhost" || address == "::1" || address.rfind("127.", 0) == 0;
}

std::string unsafe_door(const Door& door, bool has_records, bool can_sign_in) {
  const bool away = !is_loopback(door.address);
  const bool tls = !door.certificate_file.empty();
  if (tls != !door.key_file.empty()) return "--certificate and --key belong together: name both";
  if (tls && door.behind_proxy)
    return "--behind-proxy: the proxy does the TLS, so no certificate was expected here";
  if (door.behind_proxy && away)
    return "--behind-proxy: listens on this machine's own address only, where the proxy runs; leave --listen "
           "out";
  if (away && !tls)
    return "--listen " + door.address +
           ": others could read along; give --certificate and --key, or a reverse proxy and --behind-proxy";
  if ((away || door.behind_proxy || door.sign_in) && has_records && !can_sign_in)
    return "nobody could sign in; add an administrator with a password first: glidewright school add";
  return {};
}

std::string host_of(const std::string& host_header) {
  if (!host_header.empty() && host_header.front() == '[') {
    const auto end = host_header.find(']');
    const bool whole =
        end != std::string::npos && (end + 1 == host_header.size() || host_header[end + 1] == ':');
    return whole ? host_header.substr(1, end - 1) : std::string();
  }
  return host_header.substr(0, host_header.find(':'));
}

bool answers_to(const Door& door, const std::string& host_header) {
  const std::string host = host_of(host_header);
  if (host == "127.0.0.1" || host == "localhost" || host == "::1") return true;
  return std::find(door.host_names.begin(), door.host_names.end(), host) != door.host_names.end();
}

}  // namespace glidewright
