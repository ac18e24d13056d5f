// The server over HTTP: which doors it opens, to whom it answers, and how it stands behind a proxy.
#include "apps/server/server.hpp"

#include <gmock/gmock.h>
#include <httplib.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <thread>

#include "store/school.hpp"
#include "tests/store/records_fixture.hpp"
#include "tests/where.hpp"

namespace glidewright {
namespace {

using nlohmann::json;
using ::testing::HasSubstr;

const std::string k_password = "seven quiet gliders";

void write_text(const std::string& file, const std::string& text) {
  std::ofstream(file) << text;
}

class ServerTest : public RecordsFixture, public ::testing::Test {
 protected:
  ServerTest() {
    std::filesystem::create_directory(folder.path() + "/page");
    write_text(folder.path() + "/page/index.html", "<!doctype html><title>page</title>");
    parts.page_folder = folder.path() + "/page";
    parts.records = where;
    parts.now_unix_s = [] { return static_cast<double>(time(nullptr)); };
    parts.standard = [](const std::string&) -> Result<Standard> { return Standard{}; };
    parts.debrief = [](const std::string&, const std::string& bytes, const std::string&,
                       const KnownToRecords&) -> Result<NewFlight> { return flight(bytes); };
    parts.wrong_with_asked = [](const std::string&) { return std::string(); };
  }
  ~ServerTest() override {
    if (!server) return;
    server->stop();
    thread.join();
  }
  void serve(const Door& door) {
    server = std::make_unique<Server>(must(Server::open(door, parts)));
    thread = std::thread([this] { server->serve(); });
  }
  void add_administrator() {
    Records records = open();
    School school(records);
    const Person a = must(school.add({"Person a", "a", Role::administrator, {}}, k_stamp));
    must(school.set_password(a.number, k_password, k_stamp));
  }
  std::string refused(const Door& door) {
    auto opened = Server::open(door, parts);
    return opened ? std::string() : opened.error().sentence;
  }
  /// A certificate for localhost that its own test trusts.
  void make_certificate() {
    const std::string command = fmt::format(
        "openssl req -x509 -newkey rsa:2048 -nodes -days 2 -subj /CN=localhost -addext "
        "subjectAltName=DNS:localhost,IP:127.0.0.1 -keyout {0}/key.pem -out {0}/certificate.pem 2>/dev/null",
        folder.path());
    ASSERT_EQ(std::system(command.c_str()), 0);
  }
  int port() const {
    const std::string url = server->url();
    return std::stoi(url.substr(url.rfind(':') + 1));
  }
  httplib::Client client() const {
    httplib::Client one("127.0.0.1", port());
    one.set_default_headers({{"X-Glidewright", "test"}});
    return one;
  }

  ServerParts parts;
  std::unique_ptr<Server> server;
  std::thread thread;
};

TEST_F(ServerTest, GivesThePageAndTheRecordsOnThisMachineWithoutSigningIn) {
  serve({});
  auto http = client();
  const auto page = http.Get("/");
  ASSERT_TRUE(page);
  EXPECT_THAT(page->body, HasSubstr("<title>page"));
  EXPECT_EQ(page->get_header_value("X-Content-Type-Options"), "nosniff");
  const auto added =
      http.Post("/api/students?by=Demo%20Instructor", "{\"name\": \"Demo Student\"}", "application/json");
  ASSERT_TRUE(added);
  EXPECT_EQ(added->status, 201);
  EXPECT_EQ(json::parse(http.Get("/api/students")->body)["students"][0]["added_by"], "Demo Instructor");
  EXPECT_EQ(http.Get("/api/students")->get_header_value("Cache-Control"), "no-store");
}

TEST_F(ServerTest, ALogThatIsDroppedIsDebriefedAndTheStreamSaysSo) {
  serve({});
  auto http = client();
  http.Post("/api/students?by=x", "{\"name\": \"Demo Student\"}", "application/json");
  const auto accepted =
      http.Post("/api/students/1/logs?by=x&name=lesson.gpx", "a log", "application/octet-stream");
  ASSERT_TRUE(accepted);
  EXPECT_EQ(accepted->status, 202);
  std::string told;
  const auto stream = http.Get("/api/students/1/events", [&](const char* data, std::size_t length) {
    told.append(data, length);
    return true;
  });
  ASSERT_TRUE(stream);
  EXPECT_EQ(stream->get_header_value("Content-Type"), "text/event-stream");
  EXPECT_EQ(told.rfind("data: {", 0), 0U) << told;
  EXPECT_THAT(told, HasSubstr("\"state\":\"done\"")) << "it ends when nothing is left to wait for";
  EXPECT_EQ(json::parse(http.Get("/api/students/1/jobs")->body)["jobs"][0]["new_attempts"], 2);
}

TEST_F(ServerTest, AnswersToItsOwnNamesOnly) {
  serve({});
  auto http = client();
  for (const char* host : {"evil.example", "127.0.0.1.evil.example", "", "[::1]evil"}) {
    const auto answer = http.Get("/api/here", {{"Host", host}});
    ASSERT_TRUE(answer);
    EXPECT_EQ(answer->status, 403) << host;
  }
  EXPECT_EQ(http.Get("/api/here", {{"Host", "localhost:99"}})->status, 200);
}

TEST_F(ServerTest, AFormOfAnotherSiteChangesNothing) {
  serve({});
  httplib::Client form("127.0.0.1", port());
  const auto answer = form.Post("/api/students?by=x", "{\"name\": \"Demo\"}", "text/plain");
  ASSERT_TRUE(answer);
  EXPECT_EQ(answer->status, 403);
}

TEST_F(ServerTest, OpensNoDoorThatIsNotSafe) {
  make_certificate();
  Door door;
  door.address = "0.0.0.0";
  EXPECT_THAT(refused(door), HasSubstr("--certificate"));
  door.certificate_file = folder.path() + "/certificate.pem";
  EXPECT_THAT(refused(door), HasSubstr("belong together"));
  door.key_file = folder.path() + "/key.pem";
  EXPECT_THAT(refused(door), HasSubstr("add an administrator"));
  add_administrator();
  EXPECT_EQ(refused(door), "");
  door.key_file = folder.path() + "/page/index.html";
  EXPECT_THAT(refused(door), HasSubstr("PEM"));
  Door proxy;
  proxy.behind_proxy = true;
  proxy.address = "0.0.0.0";
  EXPECT_THAT(refused(proxy), HasSubstr("leave --listen out"));
}

TEST_F(ServerTest, SpeaksTlsByItsOwnCertificateAndKeepsTheSessionInASafeCookie) {
  make_certificate();
  add_administrator();
  Door door;
  door.sign_in = true;
  door.certificate_file = folder.path() + "/certificate.pem";
  door.key_file = folder.path() + "/key.pem";
  serve(door);
  EXPECT_EQ(server->url().rfind("https://", 0), 0U);
  httplib::SSLClient http("localhost", port());
  http.set_ca_cert_path(door.certificate_file.c_str());
  http.set_default_headers({{"X-Glidewright", "test"}});
  EXPECT_EQ(http.Get("/api/students")->status, 401);
  const auto in =
      http.Post("/api/sign-in", json({{"name", "a"}, {"password", k_password}}).dump(), "application/json");
  ASSERT_TRUE(in);
  ASSERT_EQ(in->status, 200) << in->body;
  const std::string cookie = in->get_header_value("Set-Cookie");
  for (const char* part : {"__Host-glidewright=", "HttpOnly", "SameSite=Strict", "Secure", "Path=/"})
    EXPECT_THAT(cookie, HasSubstr(part));
  const httplib::Headers with = {{"Cookie", cookie.substr(0, cookie.find(';'))}};
  EXPECT_EQ(http.Get("/api/students", with)->status, 200);
  http.Post("/api/sign-out", with, "", "application/json");
  EXPECT_EQ(http.Get("/api/students", with)->status, 401);
}

/// nginx in front, as docs/server.md has it: TLS there, and the address that it saw counts the tries.
TEST_F(ServerTest, StandsBehindAReverseProxy) {
  make_certificate();
  add_administrator();
  Door door;
  door.behind_proxy = true;
  door.host_names = {"school.example"};
  serve(door);
  EXPECT_EQ(client().Get("/api/here")->status, 403) << "past the proxy";
  const int outside = port() < 60000 ? port() + 1 : port() - 1;
  std::ifstream file(std::filesystem::path(where::data()).parent_path() / "docs/nginx-example.conf");
  std::string site((std::istreambuf_iterator<char>(file)), {});
  const auto put = [&](const std::string& what, const std::string& with) {
    ASSERT_NE(site.find(what), std::string::npos) << what;
    for (std::size_t at = site.find(what); at != std::string::npos; at = site.find(what, at + with.size()))
      site.replace(at, what.size(), with);
  };
  put("listen 443 ssl;", fmt::format("listen 127.0.0.1:{} ssl;", outside));
  put("/etc/ssl/school.example.pem", folder.path() + "/certificate.pem");
  put("/etc/ssl/school.example.key", folder.path() + "/key.pem");
  put("127.0.0.1:8080", fmt::format("127.0.0.1:{}", port()));
  write_text(
      folder.path() + "/nginx.conf",
      fmt::format("pid {0}/nginx.pid;\nerror_log {0}/nginx.log;\nevents {{}}\nhttp {{\naccess_log off;\n"
                  "client_body_temp_path {0}/body;\nproxy_temp_path {0}/proxy;\nfastcgi_temp_path {0}/f;\n"
                  "uwsgi_temp_path {0}/u;\nscgi_temp_path {0}/s;\n{1}}}\n",
                  folder.path(), site));
  const std::string nginx = fmt::format("nginx -e {0}/nginx.log -p {0} -c {0}/nginx.conf", folder.path());
  ASSERT_EQ(std::system(nginx.c_str()), 0);
  httplib::SSLClient http("127.0.0.1", outside);
  http.enable_server_certificate_verification(false);
  http.set_default_headers({{"X-Glidewright", "test"}, {"Host", "school.example"}});
  const auto here = http.Get("/api/here");
  const auto in =
      http.Post("/api/sign-in", json({{"name", "a"}, {"password", k_password}}).dump(), "application/json");
  httplib::Result stream = http.Get("/api/students/1/events");
  std::system((nginx + " -s stop").c_str());
  ASSERT_TRUE(here && in && stream);
  EXPECT_EQ(here->status, 200) << here->body;
  EXPECT_EQ(in->status, 200) << in->body;
  EXPECT_THAT(in->get_header_value("Set-Cookie"), HasSubstr("Secure"));
  EXPECT_EQ(stream->status, 401);
}

/// The database goes and comes back under the server: an error meanwhile, and nothing lost.
TEST_F(ServerTest, GoesOnAfterTheDatabaseWasAway) {
  PrivateServer database;
  parts.records = database.url();
  serve({});
  auto http = client();
  const auto add_student = [&](const char* name) {
    const auto answer = http.Post("/api/students?by=x", json({{"name", name}}).dump(), "application/json");
    return answer ? answer->status : 0;
  };
  EXPECT_EQ(add_student("Before"), 201);
  database.stop();
  EXPECT_EQ(http.Get("/api/students")->status, 503);
  EXPECT_EQ(add_student("Meanwhile"), 503);
  database.start();
  EXPECT_EQ(add_student("After"), 201);
  EXPECT_EQ(json::parse(http.Get("/api/students")->body)["students"].size(), 2U);
}

}  // namespace
}  // namespace glidewright
