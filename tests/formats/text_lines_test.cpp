#include "formats/text_lines.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>
#include <vector>

namespace glidewright {
namespace {

using testing::ElementsAre;

std::vector<std::string> lines_of(std::string_view bytes) {
  std::vector<std::string> all;
  TextLines lines(bytes);
  while (const auto line = lines.next())
    all.push_back(std::to_string(line->offset) + ":" + std::string(line->text));
  return all;
}

TEST(TextLines, HoweverTheyEnd) {
  EXPECT_THAT(lines_of("a\nb\n"), ElementsAre("0:a", "2:b"));
  EXPECT_THAT(lines_of("a\r\nb"), ElementsAre("0:a", "3:b"));
  EXPECT_THAT(lines_of("a\rb\r"), ElementsAre("0:a", "2:b"));
  EXPECT_THAT(lines_of("a \t\n\n b"), ElementsAre("0:a", "4:", "5: b"));
  EXPECT_THAT(lines_of(""), ElementsAre());
}

}  // namespace
}  // namespace glidewright
