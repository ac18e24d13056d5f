#include "bench/server_load.hpp"

#include <fmt/format.h>
#include <httplib.h>
#include <sys/wait.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <csignal>
#include <filesystem>
#include <fstream>
#include <map>
#include <mutex>
#include <random>
#include <thread>

#include "apps/server/server.hpp"
#include "formats/file.hpp"
#include "store/queue.hpp"

namespace glidewright {
namespace {

using Clock = std::chrono::steady_clock;
constexpr int k_clients = 8;
constexpr int k_requests = 4000;

double milliseconds_since(Clock::time_point start) {
  return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

double percentile(std::vector<double> values, double share) {
  if (values.empty()) return 0.0;
  std::sort(values.begin(), values.end());
  return values[static_cast<std::size_t>(share * static_cast<double>(values.size() - 1))];
}

/// A page's folder that has the least that a server asks of one.
std::string page_folder() {
  const std::string folder = std::filesystem::temp_directory_path() / "glidewright-measured-page";
  std::filesystem::create_directories(folder);
  std::ofstream(folder + "/index.html") << "<!doctype html><title>measured</title>";
  return folder;
}

ServerParts parts_over(const std::string& records) {
  ServerParts parts;
  parts.page_folder = page_folder();
  parts.records = records;
  parts.now_unix_s = [] { return static_cast<double>(time(nullptr)); };
  parts.standard = [](const std::string&) -> Result<Standard> {
    Standard standard;
    standard.id = "demo";
    standard.name = "Demo";
    return standard;
  };
  parts.debrief = [](const std::string& name, const std::string& bytes, const std::string&,
                     const KnownToRecords&) -> Result<NewFlight> {
    return NewFlight{name, bytes, {}};
  };
  parts.wrong_with_asked = [](const std::string&) { return std::string(); };
  return parts;
}

struct Ask {
  const char* name;
  std::string path;
  std::string body;  ///< empty: GET
};

/// What pages ask, as often as they would: most look, one in ten writes.
Ask any_ask(std::mt19937& random, int students) {
  const int student = std::uniform_int_distribution<int>(1, students)(random);
  switch (std::uniform_int_distribution<int>(0, 9)(random)) {
    case 0:
    case 1:
    case 2:
      return {"student", fmt::format("/api/students/{}", student), ""};
    case 3:
      return {"roster", fmt::format("/api/roster?at_most=25&after={}", student), ""};
    case 4:
    case 5:
      return {"students", fmt::format("/api/students?at_most=50&after={}", student), ""};
    case 6:
      return {"jobs", fmt::format("/api/students/{}/jobs", student), ""};
    case 7:
      return {"history", fmt::format("/api/students/{}/history", student), ""};
    case 8:
      return {"note", fmt::format("/api/students/{}/notes?by=Measurer", student), "{\"text\": \"a note\"}"};
    default:
      return {"here", "/api/here", ""};
  }
}

struct Took {
  std::map<std::string, std::vector<double>> ms;
  int failed = 0;
  std::string first_failure;
};

Took ask_for_a_while(int port, int students, unsigned seed) {
  httplib::Client client("127.0.0.1", port);
  client.set_keep_alive(true);
  client.set_tcp_nodelay(true);
  client.set_default_headers({{"X-Glidewright", "measure"}});
  std::mt19937 random(seed);
  Took took;
  for (int i = 0; i < k_requests / k_clients; ++i) {
    const Ask ask = any_ask(random, students);
    const auto start = Clock::now();
    const auto answer =
        ask.body.empty() ? client.Get(ask.path) : client.Post(ask.path, ask.body, "application/json");
    took.ms[ask.name].push_back(milliseconds_since(start));
    if (answer && answer->status < 300) continue;
    ++took.failed;
    took.first_failure = fmt::format("{}: {}", ask.path, answer ? answer->body : "no answer");
  }
  return took;
}

pid_t begin_server(const std::string& records) {
  const pid_t child = fork();
  if (child != 0) return child;
  std::freopen("/dev/null", "w", stdout);
  const std::string page = page_folder();
  execl(GLIDEWRIGHT_PROGRAM, "glidewright", "serve", "--records", records.c_str(), "--page", page.c_str(),
        nullptr);
  _exit(127);
}

}  // namespace

nlohmann::ordered_json requests_under_load(const std::string& records, int students) {
  auto server = Server::open({}, parts_over(records));
  if (!server) throw std::runtime_error(server.error().sentence);
  std::thread serving([&] { server->serve(); });
  const std::string url = server->url();
  const int port = std::stoi(url.substr(url.rfind(':') + 1));
  std::vector<std::thread> clients;
  std::mutex mutex;
  Took all;
  const auto start = Clock::now();
  for (unsigned i = 0; i < k_clients; ++i)
    clients.emplace_back([&, i] {
      const Took took = ask_for_a_while(port, students, i + 1);
      const std::lock_guard lock(mutex);
      all.failed += took.failed;
      if (all.first_failure.empty()) all.first_failure = took.first_failure;
      for (const auto& [name, ms] : took.ms) all.ms[name].insert(all.ms[name].end(), ms.begin(), ms.end());
    });
  for (auto& client : clients) client.join();
  const double seconds = milliseconds_since(start) / 1000.0;
  server->stop();
  serving.join();
  nlohmann::ordered_json figures;
  std::vector<double> every;
  for (const auto& [name, ms] : all.ms) every.insert(every.end(), ms.begin(), ms.end());
  figures["requests_per_s"] = std::round(static_cast<double>(every.size()) / seconds);
  figures["request_p99_ms"] = std::round(10.0 * percentile(every, 0.99)) / 10.0;
  figures["requests_failed"] = all.failed;
  if (all.failed > 0) figures["a_failure"] = all.first_failure;
  for (const auto& [name, ms] : all.ms)
    figures[name] = {{"median_ms", std::round(100.0 * percentile(ms, 0.5)) / 100.0},
                     {"p99_ms", std::round(100.0 * percentile(ms, 0.99)) / 100.0}};
  return figures;
}

double logs_per_s_by_queue(const std::string& where, int servers, int logs) {
  auto records = Records::open(where);
  if (!records) throw std::runtime_error(records.error().sentence);
  const Stamp stamp{"Measurer", 1.8e9};
  const auto student = records->add_student("Of the queue", stamp);
  const auto log = read_file(GLIDEWRIGHT_DATA "/demo/reference-flight/touch-and-goes.gpx");
  const auto runway = read_file(GLIDEWRIGHT_DATA "/demo/reference-flight/runway.json");
  if (!student || !log || !runway) throw std::runtime_error("the demonstration's log cannot be filed");
  Queue queue(*records);
  const std::string asked = "{\"touchdown_point_ft\": 600, \"runway\": " + *runway + "}";
  for (int i = 0; i < logs; ++i)
    if (const auto put = queue.put(student->number, fmt::format("lesson-{}.gpx", i),
                                   *log + fmt::format("<!-- {} -->\n", i), asked, stamp);
        !put)
      throw std::runtime_error(put.error().sentence);
  const auto start = Clock::now();
  std::vector<pid_t> running;
  for (int i = 0; i < servers; ++i) running.push_back(begin_server(where));
  for (int left = logs; left > 0;) {
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
    left = 0;
    const auto jobs = queue.of_student(student->number, logs);
    if (!jobs) continue;
    for (const Job& job : *jobs) {
      if (job.state == Job::State::failed) throw std::runtime_error(job.said);
      left += job.state != Job::State::done;
    }
  }
  const double seconds = milliseconds_since(start) / 1000.0;
  for (const pid_t child : running) {
    kill(child, SIGTERM);
    waitpid(child, nullptr, 0);
  }
  return std::round(10.0 * logs / seconds) / 10.0;
}

}  // namespace glidewright
