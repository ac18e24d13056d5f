// Opening, copying and checking.
#include "store/records.hpp"

#include <fmt/format.h>

#include <filesystem>

#include "formats/sha256.hpp"
#include "store/connection.hpp"
#include "store/migrations.hpp"

namespace glidewright {
namespace {

void refuse_a_file_that_is_not_there(const std::string& where, Records::Opening opening) {
  std::error_code ignored;
  if (opening == Records::Opening::existing && !std::filesystem::exists(where, ignored))
    throw Refusal(where + ": no such file of records; `record add` makes one");
  if (where.find('"') != std::string::npos)
    throw Refusal(where + ": a name without quotation marks was expected");
}

void require_whole_standards(const std::string& shown, soci::session& sql) {
  std::vector<std::string> kept;
  {
    const soci::rowset<std::string> rows = (sql.prepare << "select sha256 from standards order by sha256");
    for (const auto& sha : rows) kept.push_back(sha);
  }
  for (const std::string& sha : kept) {
    std::string content;
    sql << "select content from standards where sha256 = :sha", soci::use(sha), soci::into(content);
    if (sha256_hex(content) != sha)
      throw Refusal(shown + ": the standard " + sha + " is damaged; a backup has it whole");
  }
}

}  // namespace

Records::Records(std::unique_ptr<Connection> connection) : connection_(std::move(connection)) {}
Records::Records(Records&&) noexcept = default;
Records& Records::operator=(Records&&) noexcept = default;
Records::~Records() = default;

Result<Records> Records::open(const std::string& where, Opening opening) {
  const std::string shown = without_password(where);
  auto connection = std::make_unique<Connection>();
  connection->where = where;
  connection->shown = shown;
  connection->kind = kind_of(where);
  const auto failed_to_open = done_or_error(*connection, [&] {
    if (connection->kind == DatabaseKind::sqlite) refuse_a_file_that_is_not_there(where, opening);
    open_database(connection->sql, where);
    if (const auto failed = migrate(connection->sql, connection->kind, shown, newest_form()))
      throw Refusal(failed->sentence);
  });
  if (failed_to_open) return *failed_to_open;
  return Records(std::move(connection));
}

bool Records::database_failed() const {
  return connection_->failed;
}

std::optional<Error> Records::back_up(const std::string& file) {
  return done_or_error(*connection_, [&] {
    if (connection_->kind == DatabaseKind::postgresql)
      throw Refusal("a server's own tools back its database up; `record export` writes an archive of all");
    std::error_code ignored;
    if (std::filesystem::exists(file, ignored)) throw Refusal(file + ": is there already");
    connection_->sql << "vacuum into :copy", soci::use(file);
  });
}

Result<int> Records::check_whole() {
  return answer<int>(*connection_, [&] {
    auto& sql = connection_->sql;
    if (const std::string damage = what_is_damaged(sql, connection_->kind); !damage.empty())
      throw Refusal(connection_->shown + ": is damaged: " + damage +
                    "; `record restore` brings a backup back");
    std::vector<std::string> logs;
    {
      const soci::rowset<std::string> rows = (sql.prepare << "select sha256 from logs order by sha256");
      for (const auto& sha : rows) logs.push_back(sha);
    }
    for (const std::string& sha : logs) {
      const auto bytes = original(sha);
      if (!bytes) throw Refusal(bytes.error().sentence);
    }
    require_whole_standards(connection_->shown, sql);
    return static_cast<int>(logs.size());
  });
}

}  // namespace glidewright
