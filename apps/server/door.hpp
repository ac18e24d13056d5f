#pragma once
// Whether a door is safe to open, and whether a request came through it.

#include <string>

#include "apps/server/parts.hpp"

namespace glidewright {

bool is_loopback(const std::string& address);
/// What is wrong with the door; empty where it may be opened. `can_sign_in`: an administrator has a password.
std::string unsafe_door(const Door& door, bool has_records, bool can_sign_in);
/// Whether a server called by this Host header answers: a page of another name that points here must not be
/// answered.
bool answers_to(const Door& door, const std::string& host_header);
/// The host of a Host header, without its port and the brackets of an IPv6 address.
std::string host_of(const std::string& host_header);

}  // namespace glidewright
