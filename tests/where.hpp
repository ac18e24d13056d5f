#pragma once

#include <string>

// Where the tests find their files and the program. Only where.cpp is compiled with these paths, so that a
// compiler cache serves every clone of the repository.
namespace glidewright::where {

std::string test_data();  // tests/data
std::string data();       // data, which ships with the program
std::string program();    // the built glidewright

}  // namespace glidewright::where
