#pragma once
// The file that a receiver's sentences are kept in, each as soon as it has come.

#include <cstddef>
#include <string>
#include <string_view>

#include "formats/result.hpp"

namespace glidewright {

class KeptSentences {
 public:
  /// A new file, or with `append` one that is there already and goes on in a line of its own; an error where
  /// it cannot be.
  static Result<KeptSentences> open(const std::string& file, bool append);
  KeptSentences(KeptSentences&& other) noexcept;
  KeptSentences& operator=(KeptSentences&&) = delete;
  ~KeptSentences();

  /// Bytes as they came. Whole lines are written at once, what begins no sentence is left out; an error where
  /// the disk is full.
  std::optional<Error> add(std::string_view bytes);
  /// The other end is gone: what is left of its last line is none.
  void forget_the_rest() { line_.clear(); }

  std::size_t sentences() const { return sentences_; }
  std::size_t places() const { return places_; }  ///< sentences that tell one

 private:
  KeptSentences(int handle, std::string file) : handle_(handle), file_(std::move(file)) {}
  std::optional<Error> keep(std::string_view line);

  int handle_;
  std::string file_;
  std::string line_;  ///< not whole yet
  std::size_t sentences_ = 0;
  std::size_t places_ = 0;
};

}  // namespace glidewright
