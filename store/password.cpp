#include "store/password.hpp"

#include <sodium.h>

#include <semaphore>
#include <stdexcept>

namespace glidewright {
namespace {

void begin_sodium() {
  static const int begun = sodium_init();
  if (begun < 0) throw std::runtime_error("libsodium cannot be used");
}

/// So many at once: each takes 64 MB, and anybody may ask.
std::counting_semaphore<4> at_once(4);

class Turn {
 public:
  Turn() { at_once.acquire(); }
  ~Turn() { at_once.release(); }
  Turn(const Turn&) = delete;
  Turn& operator=(const Turn&) = delete;
};

bool verify(const std::string& hash, const std::string& password) {
  const Turn turn;
  return crypto_pwhash_str_verify(hash.c_str(), password.data(), password.size()) == 0;
}

}  // namespace

std::string password_hash(const std::string& password) {
  begin_sodium();
  char hash[crypto_pwhash_STRBYTES];
  if (crypto_pwhash_str(hash, password.data(), password.size(), crypto_pwhash_OPSLIMIT_INTERACTIVE,
                        crypto_pwhash_MEMLIMIT_INTERACTIVE) != 0)
    throw std::runtime_error("there is no memory for the password");
  return hash;
}

bool password_is(const std::string& hash, const std::string& password) {
  begin_sodium();
  const bool is_hash = hash.rfind("$argon2id$", 0) == 0 && hash.size() < crypto_pwhash_STRBYTES;
  if (is_hash) return verify(hash, password);
  // Somebody who is not there takes as long as somebody who is.
  static const std::string nobody = password_hash(new_token());
  verify(nobody, password);
  return false;
}

std::string new_token() {
  begin_sodium();
  unsigned char bytes[32];
  randombytes_buf(bytes, sizeof bytes);
  char digits[2 * sizeof bytes + 1];
  sodium_bin2hex(digits, sizeof digits, bytes, sizeof bytes);
  return digits;
}

}  // namespace glidewright
