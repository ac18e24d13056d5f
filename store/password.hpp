#pragma once
// Passwords as they are kept: argon2id (RFC 9106) by libsodium, with its salt and costs in the text.

#include <string>

namespace glidewright {

/// About a twentieth of a second and 64 MB, on purpose.
std::string password_hash(const std::string& password);
/// False for a text that is no hash, after the same time as for one.
bool password_is(const std::string& hash, const std::string& password);
/// 64 hexadecimal digits that nobody can guess.
std::string new_token();

}  // namespace glidewright
