// What only a file of records can do: be copied, brought forward, refused.
#include <zlib.h>

#include <atomic>
#include <filesystem>
#include <fstream>
#include <thread>

#include "formats/file.hpp"
#include "formats/sha256.hpp"
#include "store/migrations.hpp"
#include "tests/store/records_fixture.hpp"

namespace glidewright {
namespace {

/// Packed as gzip. The level is named because another one packs the same log to other bytes.
std::string gzip(const std::string& text) {
  z_stream stream{};
  std::string packed(text.size() + 200, '\0');
  if (deflateInit2(&stream, 9, Z_DEFLATED, 16 + MAX_WBITS, 8, Z_DEFAULT_STRATEGY) != Z_OK) return {};
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(text.data()));
  stream.avail_in = static_cast<uInt>(text.size());
  stream.next_out = reinterpret_cast<Bytef*>(packed.data());
  stream.avail_out = static_cast<uInt>(packed.size());
  deflate(&stream, Z_FINISH);
  packed.resize(packed.size() - stream.avail_out);
  deflateEnd(&stream);
  return packed;
}

class RecordFileTest : public RecordsFixture, public ::testing::Test {};

TEST_F(RecordFileTest, ABackupMadeWhileOpenIsWhole) {
  Records records = open();
  ASSERT_EQ(refusal(records.file_flight(add(records, "Demo Student"), flight("log"), k_stamp)), "");
  const std::string copy = folder.path() + "/copy.db";
  ASSERT_FALSE(records.back_up(copy));
  EXPECT_TRUE(records.back_up(copy)) << "it must not replace what is there";
  add(records, "After The Copy");
  auto copied = Records::open(copy);
  ASSERT_TRUE(copied);
  ASSERT_EQ(copied->students()->size(), 1U);
  EXPECT_EQ(copied->attempts_of(copied->students()->front().number)->size(), 2U);
}

/// Flights of many attempts are filed by another program all the while: each copy has whole ones only.
TEST_F(RecordFileTest, ABackupMadeWhileOthersWriteIsWhole) {
  constexpr int k_long_flight = 40;
  Records records = open();
  const auto student = add(records, "Demo Student");
  must(records.file_flight(student, flight("log 0", 1.7e9, k_long_flight), k_stamp));
  std::atomic<bool> enough = false;
  std::string failed;
  std::thread writer([&] {
    Records other = open();
    for (int i = 1; !enough && failed.empty(); ++i)
      failed = refusal(
          other.file_flight(student, flight(fmt::format("log {}", i), 1.7e9, k_long_flight), k_stamp));
  });
  std::size_t most = 0;
  for (int copy = 0; copy < 8; ++copy) {
    const std::string file = folder.path() + fmt::format("/copy {}", copy);
    const auto error = records.back_up(file);
    EXPECT_EQ(error ? error->sentence : "", "");
    Records copied = must(Records::open(file, Records::Opening::existing));
    const auto attempts = must(copied.attempts_of(student));
    EXPECT_EQ(attempts.size() % k_long_flight, 0U) << "half a flight";
    EXPECT_EQ(must(copied.check_whole()), static_cast<int>(attempts.size() / k_long_flight));
    EXPECT_GE(attempts.size(), most) << "what was there stays";
    most = attempts.size();
  }
  enough = true;
  writer.join();
  EXPECT_EQ(failed, "");
  EXPECT_GT(must(records.attempts_of(student)).size(), std::size_t{k_long_flight})
      << "somebody wrote meanwhile";
}

TEST_F(RecordFileTest, OlderRecordsAreBroughtForwardAfterACopy) {
  {
    auto sql = other_program();
    ASSERT_FALSE(migrate(sql, DatabaseKind::sqlite, where, 1));
    sql << "insert into students(name, added_by, added_unix_s) values('From Before', 'x', 1)";
  }
  Records records = open();
  EXPECT_EQ(records.students()->at(0).name, "From Before");
  EXPECT_FALSE(records.throw_student_away(1, k_stamp));
  soci::session copy(soci::sqlite3, "db=\"" + where + ".before-2\"");
  int form = 0, students = 0;
  copy << "pragma user_version", soci::into(form);
  copy << "select count(*) from students", soci::into(students);
  EXPECT_EQ(form, 1);
  EXPECT_EQ(students, 1);
}

TEST_F(RecordFileTest, RecordsOfBeforeKnowNothingOfHeights) {
  {
    auto sql = other_program();
    ASSERT_FALSE(migrate(sql, DatabaseKind::sqlite, where, 7));
    add_attempt_of_before(sql);
    sql << "insert into logs(sha256, bytes) values('nobody''s', x'00')";
    add_assessment_of_before(sql, "demo");
  }
  Records records = open();
  EXPECT_EQ(must(records.attempts_of(1)).at(0).assessments.at(0).circumstances.height_unit, "");
  EXPECT_TRUE(std::filesystem::exists(where + ".before-8"));
  EXPECT_TRUE(records.original("s").error().sentence.find("damaged") != std::string::npos) << "kept";
  EXPECT_TRUE(records.original("nobody's").error().sentence.find("no log") != std::string::npos);
}

/// "Not alone" and the reason were all that was said: nobody can say more of it now.
TEST_F(RecordFileTest, RecordsOfBeforeSayWhoFlewAsFarAsTheyKnow) {
  {
    auto sql = other_program();
    ASSERT_FALSE(migrate(sql, DatabaseKind::sqlite, where, 9));
    add_attempt_of_before(sql);
    sql << "insert into assessments(attempt, version, standard, went_around, probability_met, "
           "probability_in_box, student_alone, forced, sound_go_around, reason, made_by, made_unix_s, "
           "said_alone) "
           "values(1, 1, 'demo', 0, 1, 1, 1, 0, 0, '', 'x', 1, null),"
           "(1, 2, 'demo', 0, 1, 1, 0, 0, 0, 'prompted at the base turn', 'x', 2, 0),"
           "(1, 3, 'demo', 0, 1, 1, 1, 0, 0, 'no, alone', 'x', 3, 1)";
  }
  Records records = open();
  EXPECT_TRUE(std::filesystem::exists(where + ".before-10"));
  const auto kept = must(records.attempts_of(1)).at(0).assessments;
  ASSERT_EQ(kept.size(), 3U);
  EXPECT_EQ(kept[0].rated.flown_by, FlownBy::student);
  EXPECT_EQ(kept[0].said.flown_by, std::nullopt);
  EXPECT_EQ(kept[1].rated.flown_by, FlownBy::not_alone);
  EXPECT_EQ(kept[1].said.flown_by, FlownBy::not_alone);
  EXPECT_EQ(kept[1].reason, "prompted at the base turn");
  EXPECT_EQ(kept[1].circumstances.marks, "") << "nobody kept them";
  EXPECT_EQ(kept[2].rated.flown_by, FlownBy::student);
  EXPECT_EQ(kept[2].said.flown_by, FlownBy::student);
}

/// A packed log was once known by the packed bytes, and counted beside the log itself.
TEST_F(RecordFileTest, PackedLogsOfBeforeAreTheSameFlight) {
  const std::string log = "the log of a lesson";
  const std::string packed = gzip(log);
  {
    auto sql = other_program();
    ASSERT_FALSE(migrate(sql, DatabaseKind::sqlite, where, 2));
    sql << "insert into students(name, added_by, added_unix_s) values('From Before', 'x', 1)";
    for (const std::string& bytes : {log, packed, gzip("another lesson")}) {
      const std::string sha = sha256_hex(bytes);
      soci::blob blob(sql);
      blob.write(0, bytes.data(), bytes.size());
      sql << "insert into logs(sha256, bytes) values(:sha, :bytes)", soci::use(sha), soci::use(blob);
      sql << "insert into attempts(student, log, log_name, place, flown_unix_s) values(1, :sha, 'x', 1, 1)",
          soci::use(sha);
      sql << "insert into assessments select max(number), 1, 'demo', 0, 1, 1, 1, 0, 0, '', 'x', 1 from "
             "attempts";
    }
  }
  Records records = open();
  const auto attempts = must(records.attempts_of(1));
  ASSERT_EQ(attempts.size(), 3U) << "nothing is removed";
  EXPECT_FALSE(attempts[0].in_trash);
  EXPECT_TRUE(attempts[1].in_trash) << "the same track, packed";
  EXPECT_EQ(attempts[2].log_sha256, sha256_hex("another lesson"));
  EXPECT_FALSE(attempts[2].in_trash);
  EXPECT_EQ(must(records.check_whole()), 3) << "each is still what it says it is";
  EXPECT_EQ(must(records.file_flight(1, {"x.gz", gzip("another lesson"), {}}, k_stamp)).log_sha256,
            attempts[2].log_sha256);
}

TEST_F(RecordFileTest, DamageIsNoticedAndTheBackupNamed) {
  {
    Records records = open();
    must(records.file_flight(add(records, "Demo Student"), flight(std::string(2000000, 'a')), k_stamp));
    EXPECT_EQ(must(records.check_whole()), 1);
  }
  {
    auto sql = other_program();
    sql << "pragma wal_checkpoint(truncate)";
  }
  std::fstream bytes(where, std::ios::in | std::ios::out | std::ios::binary);
  // Deep in the pages of the one long log.
  bytes.seekp(static_cast<std::streamoff>(std::filesystem::file_size(where) / 2));
  bytes << "bbbb";
  bytes.close();
  Records records = open();
  const std::string said = refusal(records.check_whole());
  EXPECT_NE(said.find("damaged"), std::string::npos) << said;
  EXPECT_NE(said.find("backup"), std::string::npos) << said;
}

TEST_F(RecordFileTest, AFileThatIsNotThereIsNotMadeByLooking) {
  EXPECT_FALSE(Records::open(where, Records::Opening::existing));
  EXPECT_FALSE(std::filesystem::exists(where));
}

/// Nothing of a deleted person is left in the file's bytes.
TEST_F(RecordFileTest, WhoIsDeletedLeavesNoBytes) {
  Records records = open();
  const auto student = add(records, "Qwertzuiop Asdfghjkl");
  must(records.file_flight(student, flight("a log with yxcvbnm in it"), k_stamp));
  must(records.add_note(student, std::nullopt, "flares high, as poiuztrewq", k_stamp));
  must(records.delete_student(student, k_stamp));
  for (const char* end : {"", "-wal"}) {
    const auto bytes = read_file(where + end);
    if (!bytes) continue;
    for (const char* trace : {"Qwertzuiop", "yxcvbnm", "poiuztrewq"})
      EXPECT_EQ(bytes->find(trace), std::string::npos) << trace << " in " << where << end;
  }
}

TEST_F(RecordFileTest, RefuseWhatIsNewerOrNoRecords) {
  {
    auto sql = other_program();
    sql << "pragma user_version = 4711";
  }
  const auto newer = Records::open(where);
  ASSERT_FALSE(newer);
  EXPECT_NE(newer.error().sentence.find("newer program"), std::string::npos) << newer.error().sentence;
  EXPECT_FALSE(Records::open(folder.with("text.db", std::string(5000, 'x'))));
  EXPECT_FALSE(Records::open(folder.path() + "/no/such/folder.db"));
}

}  // namespace
}  // namespace glidewright
