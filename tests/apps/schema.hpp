#pragma once
// Whether an object is what docs/schema promises.

#include <nlohmann/json.hpp>
#include <string>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>

#include "tests/apps/program.hpp"
#include "tests/apps/reference_flights.hpp"

namespace glidewright {

inline nlohmann::json schema_document(const std::string& name) {
  return nlohmann::json::parse(bytes_of(k_clone / "docs" / "schema" / (name + ".json")));
}

/// Schemas refer to each other by their $id: "urn:glidewright:NAME:1".
inline const nlohmann::json* referred_schema(const std::string& id) {
  constexpr std::string_view before = "urn:glidewright:";
  return new nlohmann::json(schema_document(id.substr(before.size(), id.rfind(':') - before.size())));
}

/// What the schema has against the object; empty when nothing.
inline std::string objections(const std::string& schema_name, const nlohmann::json& object) {
  const auto document = schema_document(schema_name);
  valijson::Schema schema;
  valijson::SchemaParser parser(valijson::SchemaParser::kDraft7);
  parser.populateSchema<valijson::adapters::NlohmannJsonAdapter>(
      valijson::adapters::NlohmannJsonAdapter(document), schema, referred_schema,
      [](const nlohmann::json* referred) { delete referred; });
  valijson::Validator validator;
  valijson::ValidationResults results;
  if (validator.validate(schema, valijson::adapters::NlohmannJsonAdapter(object), &results)) return {};
  std::string told;
  valijson::ValidationResults::Error error;
  while (results.popError(error)) {
    for (const auto& step : error.context) told += step;
    told += ": " + error.description + "\n";
  }
  return told;
}

}  // namespace glidewright
