// Airplanes and airfields of the school: what is known of them, every version with who said it and when.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "formats/airplane_json.hpp"
#include "formats/json_reader.hpp"
#include "formats/json_write.hpp"
#include "formats/number.hpp"
#include "formats/runway_json.hpp"
#include "formats/sha256.hpp"
#include "formats/uid.hpp"
#include "store/connection.hpp"
#include "store/rows.hpp"

namespace glidewright {
namespace {

/// The changes of what is everybody's stand with no student.
constexpr long long k_no_student = 0;
constexpr std::size_t k_longest_name = 200;
constexpr std::size_t k_longest_content = std::size_t{1} << 20;

struct Tables {
  const char* items;
  const char* versions;
};
Tables tables_of(FleetKind kind) {
  return kind == FleetKind::airplane ? Tables{"airplanes", "airplane_versions"}
                                     : Tables{"airfields", "airfield_versions"};
}

std::string items_query(FleetKind kind, const std::string& rest) {
  return fmt::format("select number, uid, name, added_by, added_unix_s, in_trash from {} {}",
                     tables_of(kind).items, rest);
}

FleetItem item_of(FleetKind kind, const soci::row& row) {
  FleetItem item;
  item.kind = kind;
  item.number = whole_number(row, "number");
  item.uid = row.get<std::string>("uid");
  item.name = row.get<std::string>("name");
  item.added = {row.get<std::string>("added_by"), row.get<double>("added_unix_s")};
  item.in_trash = whole_number(row, "in_trash") != 0;
  return item;
}

std::vector<FleetItem> items_in(FleetKind kind, const soci::rowset<soci::row>& rows) {
  std::vector<FleetItem> found;
  for (const auto& row : rows) found.push_back(item_of(kind, row));
  return found;
}

enum class Contents { with, without };

/// In the order in which they were made: what was brought in from another copy may have got its number late.
std::string versions_query(FleetKind kind, Contents contents, const std::string& condition) {
  const Tables tables = tables_of(kind);
  return fmt::format(
      "select v.item as item, {} as content, v.sha256 as sha256, v.reason as reason, v.made_by as made_by,"
      " v.fitted as fitted, v.made_unix_s as made_unix_s from {} i join {} v on v.item = i.number where {}"
      " order by v.item, v.made_unix_s, v.version",
      contents == Contents::with ? "v.content" : "''", tables.items, tables.versions, condition);
}

FleetVersion version_of(const soci::row& row) {
  return {row.get<std::string>("content"),
          row.get<std::string>("sha256"),
          row.get<std::string>("reason"),
          {row.get<std::string>("made_by"), row.get<double>("made_unix_s")},
          whole_number(row, "fitted") != 0};
}

void add_versions(soci::session& sql, FleetItem& item, Contents contents) {
  const soci::rowset<soci::row> rows =
      (sql.prepare << versions_query(item.kind, contents, "i.number = :item"), soci::use(item.number));
  for (const auto& row : rows) item.versions.push_back(version_of(row));
}

/// Items with their versions, in two questions whatever their number.
std::vector<FleetItem> select_fleet(soci::session& sql, FleetKind kind, Contents contents,
                                    const std::string& condition) {
  auto found =
      items_in(kind, (sql.prepare << items_query(kind, "i where " + condition + " order by name, number")));
  std::map<long long, std::vector<FleetVersion>> versions;
  const soci::rowset<soci::row> rows = (sql.prepare << versions_query(kind, contents, condition));
  for (const auto& row : rows) versions[whole_number(row, "item")].push_back(version_of(row));
  for (FleetItem& one : found) one.versions = std::move(versions[one.number]);
  return found;
}

std::optional<FleetItem> item_with(soci::session& sql, FleetKind kind, long long number) {
  auto found =
      items_in(kind, (sql.prepare << items_query(kind, "where number = :number"), soci::use(number)));
  if (found.empty()) return std::nullopt;
  add_versions(sql, found.front(), Contents::with);
  return found.front();
}

std::vector<FleetItem> items_named(soci::session& sql, FleetKind kind, const std::string& name) {
  if (name.find('\0') != std::string::npos) return {};
  return items_in(kind,
                  (sql.prepare << items_query(kind, "where name = :name and in_trash = 0"), soci::use(name)));
}

void require_name(FleetKind kind, const std::string& name) {
  const std::string what = std::string("the name of an ") + name_of(kind);
  require_text(what, name);
  if (name.size() > k_longest_name)
    throw Refusal(fmt::format("{}: a text of 1 to {} bytes was expected", what, k_longest_name));
}

void require_name_is_free(soci::session& sql, FleetKind kind, const std::string& name) {
  int taken = 0;
  sql << fmt::format("select count(*) from {} where name = :name and in_trash = 0", tables_of(kind).items),
      soci::use(name), soci::into(taken);
  if (taken != 0) throw Refusal(fmt::format("an {} called \"{}\" is there already", name_of(kind), name));
}

void require_right_profile(const std::string& content, const std::string& name) {
  const auto handbook = read_airplane_json(content, name);
  if (!handbook) throw Refusal(handbook.error().sentence);
  const auto problems = check(*handbook);
  if (!problems.empty())
    throw Refusal(fmt::format("{}: {}: {}", name, problems.front().field, problems.front().sentence));
}

void require_right_runways(const Json& list, const std::string& name) {
  if (!list.is_array() || list.empty()) throw Refusal(name + ": a list of runways was expected");
  std::set<std::string> designators;
  for (const Json& one : list) {
    const auto runway = read_runway_json(one.dump(), name);
    if (!runway) throw Refusal(runway.error().sentence);
    if (!designators.insert(runway->designator).second)
      throw Refusal(
          fmt::format("{}: two runways are called {}; expected each once", name, runway->designator));
  }
}

/// As it is kept: read through, and written without blanks, so that the same is the same in every copy.
std::string right_content(FleetKind kind, const std::string& content, const std::string& name) {
  if (content.size() > k_longest_content)
    throw Refusal(fmt::format("{}: is longer than {} bytes", name, k_longest_content));
  const auto document = parse_json(content, name);
  if (!document) throw Refusal(document.error().sentence);
  const Json parsed = Json::parse(content);
  if (kind == FleetKind::airplane)
    require_right_profile(content, name);
  else
    require_right_runways(parsed, name);
  return parsed.dump();
}

void insert_version(soci::session& sql, const FleetItem& item, const FleetVersion& version) {
  const Tables tables = tables_of(item.kind);
  long long number = 0;
  sql << fmt::format("select coalesce(max(version), 0) + 1 from {} where item = :item", tables.versions),
      soci::use(item.number), soci::into(number);
  const int fitted = version.fitted;
  sql << fmt::format(
      "insert into {}(item, version, content, sha256, reason, made_by, made_unix_s, fitted)"
      " values(:item, :version, :content, :sha, :reason, :by, :at, :fitted)",
      tables.versions),
      soci::use(item.number), soci::use(number), soci::use(version.content), soci::use(version.sha256),
      soci::use(version.reason), soci::use(version.stamp.by), soci::use(version.stamp.unix_s),
      soci::use(fitted);
}

void insert_item(soci::session& sql, FleetItem& item) {
  const int in_trash = item.in_trash;
  sql << fmt::format(
      "insert into {}(uid, name, added_by, added_unix_s, in_trash)"
      " values(:uid, :name, :by, :at, :trash) returning number",
      tables_of(item.kind).items),
      soci::use(item.uid), soci::use(item.name), soci::use(item.added.by), soci::use(item.added.unix_s),
      soci::use(in_trash), soci::into(item.number);
}

/// "Demo 2", "Demo 3" ...: two copies of the records may each have made one of that name.
std::string free_name(soci::session& sql, FleetKind kind, const std::string& wanted) {
  std::string name = wanted;
  for (int i = 2;; ++i) {
    int taken = 0;
    sql << fmt::format("select count(*) from {} where name = :name and in_trash = 0", tables_of(kind).items),
        soci::use(name), soci::into(taken);
    if (taken == 0) return name;
    name = fmt::format("{} ({})", wanted, i);
  }
}

class MergingFleet {
 public:
  MergingFleet(Records::Connection& records, const Stamp& stamp) : records_(records), stamp_(stamp) {}

  MergedFleet merge(const std::vector<FleetItem>& fleet) {
    for (const FleetItem& one : fleet) merge_item(one);
    return merged_;
  }

 private:
  soci::session& sql() { return records_.sql; }

  void merge_item(const FleetItem& brought) {
    require_name(brought.kind, brought.name);
    auto known = items_in(brought.kind, (sql().prepare << items_query(brought.kind, "where uid = :uid"),
                                         soci::use(brought.uid)));
    if (known.empty()) {
      FleetItem added = brought;
      added.versions.clear();
      if (!added.in_trash) added.name = free_name(sql(), added.kind, added.name);
      insert_item(sql(), added);
      ++(added.kind == FleetKind::airplane ? merged_.airplanes : merged_.airfields);
      known.push_back(added);
    }
    FleetItem& mine = known.front();
    hold_row(sql(), records_.kind, tables_of(mine.kind).items, mine.number);
    add_versions(sql(), mine, Contents::without);
    int versions = 0;
    for (FleetVersion one : brought.versions) {
      one.content = right_content(brought.kind, one.content, brought.name);
      one.sha256 = sha256_hex(one.content);
      const auto is_same = [&](const FleetVersion& other) {
        return other.sha256 == one.sha256 && other.stamp.by == one.stamp.by &&
               other.stamp.unix_s == one.stamp.unix_s;
      };
      if (std::any_of(mine.versions.begin(), mine.versions.end(), is_same)) continue;
      insert_version(sql(), mine, one);
      ++versions;
    }
    merged_.versions += versions;
    if (versions > 0) write_down(sql(), k_no_student, "brought in", name_of(mine.kind), mine.number, stamp_);
  }

  Records::Connection& records_;
  const Stamp& stamp_;
  MergedFleet merged_;
};

}  // namespace

const char* name_of(FleetKind kind) {
  return kind == FleetKind::airplane ? "airplane" : "airfield";
}

Result<FleetItem> Records::add_to_fleet(FleetKind kind, const std::string& name, const std::string& content,
                                        const Stamp& stamp) {
  return answer<FleetItem>(*connection_, [&] {
    require_signed(stamp);
    require_name(kind, name);
    FleetVersion first;
    first.content = right_content(kind, content, name);
    first.sha256 = sha256_hex(first.content);
    first.stamp = stamp;
    auto& sql = connection_->sql;
    Writing writing(sql, connection_->kind);
    require_name_is_free(sql, kind, name);
    FleetItem item{kind, 0, new_uid(), name, stamp, false, {}};
    insert_item(sql, item);
    insert_version(sql, item, first);
    write_down(sql, k_no_student, "added", name_of(kind), item.number, stamp);
    writing.commit();
    item.versions.push_back(first);
    return item;
  });
}

Result<FleetItem> Records::change_in_fleet(FleetKind kind, long long number, const std::string& content,
                                           const std::string& reason, const Stamp& stamp, From from) {
  return answer<FleetItem>(*connection_, [&] {
    require_signed(stamp);
    require_text(fmt::format("why an {} is changed", name_of(kind)), reason);
    auto& sql = connection_->sql;
    Writing writing(sql, connection_->kind);
    hold_row(sql, connection_->kind, tables_of(kind).items, number);
    auto item = item_with(sql, kind, number);
    if (!item || item->in_trash) throw Refusal(fmt::format("no {} has the number {}", name_of(kind), number));
    FleetVersion next;
    next.content = right_content(kind, content, item->name);
    next.sha256 = sha256_hex(next.content);
    next.reason = reason;
    next.stamp = stamp;
    next.fitted = from == From::logged_glides;
    if (next.sha256 == item->versions.back().sha256)
      throw Refusal(fmt::format("{} {} is so already; nothing was changed", name_of(kind), item->name));
    insert_version(sql, *item, next);
    write_down(sql, k_no_student, "changed", name_of(kind), number, stamp);
    writing.commit();
    item->versions.push_back(next);
    return *item;
  });
}

Result<std::vector<FleetItem>> Records::fleet(FleetKind kind) {
  return answer<std::vector<FleetItem>>(*connection_, [&] {
    return select_fleet(connection_->sql, kind, Contents::without, "i.in_trash = 0");
  });
}

Result<std::vector<FleetItem>> Records::fleet_in_trash(FleetKind kind) {
  return answer<std::vector<FleetItem>>(*connection_, [&] {
    return select_fleet(connection_->sql, kind, Contents::without, "i.in_trash <> 0");
  });
}

Result<std::optional<FleetItem>> Records::fleet_named(FleetKind kind, const std::string& name) {
  return answer<std::optional<FleetItem>>(*connection_, [&]() -> std::optional<FleetItem> {
    auto found = items_named(connection_->sql, kind, name);
    if (found.empty()) return std::nullopt;
    add_versions(connection_->sql, found.front(), Contents::with);
    return found.front();
  });
}

Result<FleetItem> Records::find_in_fleet(FleetKind kind, const std::string& name_or_number) {
  return answer<FleetItem>(*connection_, [&] {
    auto& sql = connection_->sql;
    auto found = items_named(sql, kind, name_or_number);
    const auto number = read_whole_number(name_or_number);
    if (found.empty() && number)
      found = items_in(kind, (sql.prepare << items_query(kind, "where number = :number and in_trash = 0"),
                              soci::use(*number)));
    if (found.empty())
      throw Refusal(
          fmt::format("no {} of these records has the name or number \"{}\"", name_of(kind), name_or_number));
    add_versions(sql, found.front(), Contents::with);
    return found.front();
  });
}

Result<std::vector<FleetItem>> Records::whole_fleet() {
  return answer<std::vector<FleetItem>>(*connection_, [&] {
    std::vector<FleetItem> all;
    for (const FleetKind kind : {FleetKind::airplane, FleetKind::airfield})
      for (FleetItem& one : select_fleet(connection_->sql, kind, Contents::with, "i.number > 0"))
        all.push_back(std::move(one));
    return all;
  });
}

Result<std::vector<FleetAttempt>> Records::latest_attempts_in(const std::string& airplane_uid, int at_most) {
  return answer<std::vector<FleetAttempt>>(*connection_, [&] {
    std::vector<FleetAttempt> found;
    std::set<long long> seen;
    const soci::rowset<soci::row> rows =
        (connection_->sql.prepare << k_latest_attempts_in, soci::use(airplane_uid), soci::use(at_most));
    for (const auto& row : rows) {
      FleetAttempt one;
      one.attempt = whole_number(row, "attempt");
      // An attempt that was assessed several times stands there as often.
      if (!seen.insert(one.attempt).second) continue;
      one.student = whole_number(row, "student");
      one.time_unix_s = row.get<double>("flown_unix_s");
      one.log_sha256 = row.get<std::string>("log");
      one.log_name = row.get<std::string>("log_name");
      one.index = static_cast<int>(whole_number(row, "place"));
      found.push_back(std::move(one));
    }
    return found;
  });
}

Result<MergedFleet> Records::merge_fleet(const std::vector<FleetItem>& fleet, const Stamp& stamp) {
  return answer<MergedFleet>(*connection_, [&] {
    require_signed(stamp);
    Writing writing(connection_->sql, connection_->kind);
    const MergedFleet merged = MergingFleet(*connection_, stamp).merge(fleet);
    writing.commit();
    return merged;
  });
}

}  // namespace glidewright
