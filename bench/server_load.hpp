#pragma once
// How the server bears a school: requests of a page at once, and logs that wait.

#include <nlohmann/json.hpp>
#include <string>

namespace glidewright {

/// Requests of pages, mixed, from eight clients at once, to records filled by fill_records with so many
/// students: `requests_per_s`, `request_p99_ms`, and what each kind took.
nlohmann::ordered_json requests_under_load(const std::string& records, int students);

/// How long `logs` copies of the demonstration's log take to be debriefed and filed by so many servers, each
/// a process of its own on the same records: logs a second. Every copy has other bytes.
double logs_per_s_by_queue(const std::string& records, int servers, int logs);

}  // namespace glidewright
