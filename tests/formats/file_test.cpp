#include "formats/file.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>

namespace glidewright {
namespace {

class File : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = std::filesystem::path(testing::TempDir()) /
              ("glidewright_file_test_" + std::to_string(testing::UnitTest::GetInstance()->random_seed()) +
               testing::UnitTest::GetInstance()->current_test_info()->name());
    std::filesystem::remove_all(folder_);
    std::filesystem::create_directories(folder_);
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }

  std::string path(const std::string& name) const { return (folder_ / name).string(); }

  std::filesystem::path folder_;
};

TEST_F(File, ReadsBackWhatWasWritten) {
  const std::string bytes("a\0b\r\n\xFF", 6);
  EXPECT_FALSE(write_file_atomically(path("x"), bytes));
  EXPECT_EQ(*read_file(path("x")), bytes);
  EXPECT_FALSE(write_file_atomically(path("x"), ""));
  EXPECT_EQ(*read_file(path("x")), "");
  const std::string long_bytes(1000000, 'g');
  EXPECT_FALSE(write_file_atomically(path("x"), long_bytes));
  EXPECT_EQ(*read_file(path("x")), long_bytes);
}

TEST_F(File, NewFileNeverTakesThePlaceOfAnother) {
  EXPECT_FALSE(write_new_file_atomically(path("x"), "first"));
  const auto error = write_new_file_atomically(path("x"), "second");
  ASSERT_TRUE(error);
  EXPECT_EQ(error->sentence, path("x") + ": is there already");
  EXPECT_EQ(*read_file(path("x")), "first");
  EXPECT_EQ(std::distance(std::filesystem::directory_iterator(folder_), {}), 1);
}

TEST_F(File, NothingIsLeftBeside) {
  EXPECT_FALSE(write_file_atomically(path("x"), "1"));
  EXPECT_TRUE(write_file_atomically(folder_.string(), "1"));  // a folder cannot be replaced by a file
  int entries = 0;
  for ([[maybe_unused]] const auto& entry : std::filesystem::directory_iterator(folder_)) ++entries;
  EXPECT_EQ(entries, 1);
}

TEST_F(File, SaysWhatIsWrong) {
  EXPECT_EQ(read_file(path("none")).error().sentence, path("none") + ": no such file or folder");
  EXPECT_EQ(read_file(folder_.string()).error().sentence,
            folder_.string() + ": is a folder; expected a file");
  EXPECT_EQ(write_file_atomically(path("none/x"), "1")->sentence,
            path("none/x") + ": no such file or folder");
}

}  // namespace
}  // namespace glidewright
