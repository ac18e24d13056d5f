// The texts of standards: each as it was when something was judged by it.
#include <fmt/format.h>

#include <algorithm>

#include "formats/json_reader.hpp"
#include "formats/sha256.hpp"
#include "formats/standard_json.hpp"
#include "formats/time.hpp"
#include "formats/words/numbers.hpp"
#include "store/connection.hpp"
#include "store/rows.hpp"

namespace glidewright {
namespace {

/// The changes of what is everybody's stand with no student.
constexpr long long k_no_student = 0;
constexpr std::size_t k_longest_id = 200;
constexpr std::size_t k_longest_content = std::size_t{1} << 16;

constexpr const char* k_standards = "select sha256, id, content, added_by, added_unix_s from standards ";

/// Read through, and written without blanks, so that the same is the same in every copy.
KeptStandard text_of(const std::string& id, const std::string& content) {
  require_text("what a standard is called", id);
  if (id.size() > k_longest_id || id.find_first_of("/\\:") != std::string::npos)
    throw Refusal(
        fmt::format("{}: a name of 1 to {} bytes without strokes and colons was expected", id, k_longest_id));
  if (content.size() > k_longest_content)
    throw Refusal(fmt::format("{}: is longer than {} bytes", id, k_longest_content));
  const auto document = parse_json(content, id);
  if (!document) throw Refusal(document.error().sentence);
  auto standard = read_standard_json(content, id);
  if (!standard) throw Refusal(standard.error().sentence);
  KeptStandard text = kept_text(std::move(*standard), content);
  text.standard.id = id;
  return text;
}

KeptStandard kept_in(const soci::row& row) {
  auto content = row.get<std::string>("content");
  auto standard = read_standard_json(content, row.get<std::string>("id"));
  if (!standard) throw Refusal(standard.error().sentence);
  standard->id = row.get<std::string>("id");
  return {std::move(*standard),
          std::move(content),
          row.get<std::string>("sha256"),
          {row.get<std::string>("added_by"), row.get<double>("added_unix_s")}};
}

std::vector<KeptStandard> standards_in(const soci::rowset<soci::row>& rows) {
  std::vector<KeptStandard> found;
  for (const auto& row : rows) found.push_back(kept_in(row));
  return found;
}

std::vector<KeptStandard> standards_called(soci::session& sql, const std::string& id) {
  return standards_in(
      (sql.prepare << std::string(k_standards) + "where id = :id order by added_unix_s, sha256",
       soci::use(id)));
}

bool is_house(const Standard& standard) {
  return !standard.set_by.empty();
}

std::string limits_words(const Standard& standard) {
  return standard.box ? "a box of " + box_words(*standard.box) : "no box";
}

/// A house may change its mind, but not what it once said: who reads "version 2" must know what that was.
void refuse_what_contradicts(soci::session& sql, const KeptStandard& standard) {
  const Standard& given = standard.standard;
  for (const KeptStandard& other : standards_called(sql, given.id)) {
    if (is_house(given) != is_house(other.standard))
      throw Refusal(
          fmt::format("{}: the records keep a {} standard of that name; the file of another one "
                      "needs another name",
                      given.id, is_house(other.standard) ? "house" : "published"));
    if (is_house(given) && given.version == other.standard.version)
      throw Refusal(
          fmt::format("{}: version {} is kept since {} with another text ({}, now {}); a higher "
                      "version was expected",
                      given.id, given.version, iso8601_utc(other.added.unix_s, 0).substr(0, 10),
                      limits_words(other.standard), limits_words(given)));
  }
}

/// Another program may have kept the same at the same moment.
void insert_text(soci::session& sql, const KeptStandard& standard) {
  sql << "insert into standards(sha256, id, content, added_by, added_unix_s)"
         " values(:sha, :id, :content, :by, :at) on conflict (sha256) do nothing",
      soci::use(standard.sha256), soci::use(standard.standard.id), soci::use(standard.content),
      soci::use(standard.added.by), soci::use(standard.added.unix_s);
}

}  // namespace

KeptStandard kept_text(Standard standard, std::string_view bytes) {
  KeptStandard kept{std::move(standard), canonical_standard(bytes), "", {}};
  kept.sha256 = sha256_hex(kept.content);
  return kept;
}

bool same_limits(const Standard& a, const Standard& b) {
  const bool same_box = a.box.has_value() == b.box.has_value() &&
                        (!a.box || (a.box->low_ft == b.box->low_ft && a.box->high_ft == b.box->high_ft));
  return same_box && a.limit_seen == b.limit_seen && a.power_off == b.power_off;
}

bool is_judged_by(const Assessment& one, const StandardInForce& standard) {
  const auto& others = standard.otherwise_limited;
  return one.standard_id == standard.standard.id &&
         std::find(others.begin(), others.end(), one.standard_sha256) == others.end();
}

std::optional<KeptStandard> select_standard(soci::session& sql, const std::string& sha256) {
  auto found =
      standards_in((sql.prepare << std::string(k_standards) + "where sha256 = :sha", soci::use(sha256)));
  return found.empty() ? std::nullopt : std::optional<KeptStandard>(std::move(found.front()));
}

StandardInForce standard_in_force(soci::session& sql, const Standard& standard) {
  StandardInForce in_force{standard};
  for (const KeptStandard& one : standards_called(sql, standard.id))
    if (!same_limits(one.standard, standard)) in_force.otherwise_limited.push_back(one.sha256);
  return in_force;
}

void keep_text(soci::session& sql, const KeptStandard& standard, const Stamp& stamp) {
  KeptStandard text = text_of(standard.standard.id, standard.content);
  text.added = stamp;
  if (const auto known = select_standard(sql, text.sha256)) {
    if (known->standard.id == text.standard.id) return;
    throw Refusal(fmt::format("{}: the same text is kept as {}; that name was expected", text.standard.id,
                              known->standard.id));
  }
  refuse_what_contradicts(sql, text);
  insert_text(sql, text);
}

Result<KeptStandard> Records::keep_standard(const std::string& id, const std::string& content,
                                            const Stamp& stamp) {
  return answer<KeptStandard>(*connection_, [&] {
    require_signed(stamp);
    const KeptStandard text = text_of(id, content);
    auto& sql = connection_->sql;
    Writing writing(sql, connection_->kind);
    const bool known = select_standard(sql, text.sha256).has_value();
    keep_text(sql, text, stamp);
    if (!known) write_down(sql, k_no_student, "kept", "standard", 0, stamp);
    writing.commit();
    return *select_standard(sql, text.sha256);
  });
}

Result<std::vector<KeptStandard>> Records::kept_standards() {
  return answer<std::vector<KeptStandard>>(*connection_, [&] {
    return standards_in(
        (connection_->sql.prepare << std::string(k_standards) + "order by id, added_unix_s, sha256"));
  });
}

Result<std::optional<KeptStandard>> Records::kept_standard(const std::string& named) {
  return answer<std::optional<KeptStandard>>(*connection_, [&]() -> std::optional<KeptStandard> {
    if (named.find('\0') != std::string::npos) return std::nullopt;
    auto& sql = connection_->sql;
    if (auto by_text = select_standard(sql, named)) return by_text;
    auto called = standards_called(sql, named);
    const auto colon = named.rfind(':');
    if (called.empty() && colon != std::string::npos) {
      called = standards_called(sql, named.substr(0, colon));
      std::erase_if(called,
                    [&](const KeptStandard& one) { return one.standard.version != named.substr(colon + 1); });
    }
    if (called.empty()) return std::nullopt;
    return std::move(called.back());
  });
}

Result<StandardInForce> Records::in_force(const Standard& standard) {
  return answer<StandardInForce>(*connection_, [&] { return standard_in_force(connection_->sql, standard); });
}

Result<int> Records::merge_standards(const std::vector<KeptStandard>& standards, const Stamp& stamp) {
  return answer<int>(*connection_, [&] {
    require_signed(stamp);
    auto& sql = connection_->sql;
    Writing writing(sql, connection_->kind);
    int added = 0;
    for (const KeptStandard& one : standards) {
      KeptStandard text = text_of(one.standard.id, one.content);
      text.added = one.added;
      if (select_standard(sql, text.sha256)) continue;
      insert_text(sql, text);
      write_down(sql, k_no_student, "brought in", "standard", 0, stamp);
      ++added;
    }
    writing.commit();
    return added;
  });
}

}  // namespace glidewright
