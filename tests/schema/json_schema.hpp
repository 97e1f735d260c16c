#pragma once

#include <string>

namespace linkmargin::schema {

/// docs/site.schema.json, by the tables of fields. What needs more than one key is put to them by hand.
std::string site_schema();

/// docs/materials.schema.json: tables of materials and of profiles, and what both schemas share.
std::string materials_schema();

}  // namespace linkmargin::schema
