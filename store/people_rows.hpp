#pragma once
// A row of the people as a value; read in one place.

#include "store/connection.hpp"
#include "store/school.hpp"

namespace glidewright {

constexpr const char* k_people =
    "select number, uid, name, sign_in, role, password, student, closed, added_by, added_unix_s from people ";
Person person_of(const soci::row& row);
std::optional<Person> select_person(soci::session& sql, long long number);

}  // namespace glidewright
