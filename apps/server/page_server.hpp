#pragma once
// The built page on this machine's own address, and nowhere else.

#include <functional>
#include <memory>
#include <string>

#include "formats/result.hpp"

namespace glidewright {

class PageServer {
 public:
  /// folder: of the built page. port: 0 for any that is free. Listens on 127.0.0.1 only; nothing is answered
  /// before `serve`.
  static Result<PageServer> on_loopback(const std::string& folder, int port);
  PageServer(PageServer&&) noexcept;
  PageServer& operator=(PageServer&&) noexcept;
  ~PageServer();

  int port() const { return port_; }
  /// Until `stop` is called from another thread or a signal.
  void serve();
  void stop();

 private:
  struct Inside;
  PageServer();
  std::unique_ptr<Inside> inside_;
  int port_ = 0;
};

}  // namespace glidewright
