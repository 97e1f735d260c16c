#pragma once

#include "linkmargin/base/result.hpp"
#include "linkmargin/site/material.hpp"
#include "linkmargin/site/radio.hpp"

#include <string>
#include <string_view>

namespace linkmargin {

/// What the program knows beside a site file.
struct Tables {
  MaterialTable materials;
  ProfileTable profiles;
};

/// The tables that are built into the program, read on first use; safe from any thread.
/// @throws std::logic_error when they cannot be read, which is a defect
const Tables& embedded_tables();

/// A file of materials, under the key `materials`, on top of a table: the same name replaces an entry. Under
/// the key `learned` stands what readings of other sites show of materials: of the file or of the table.
/// @return the base with the file's entries, or every fault of the file
Result<MaterialTable> parse_materials(std::string_view text, const std::string& file_name,
                                      const MaterialTable& base);

/// The same for a file of profiles, under the key `profiles`.
Result<ProfileTable> parse_profiles(std::string_view text, const std::string& file_name,
                                    const ProfileTable& base);

/// A small commented site file to begin from.
std::string_view starter_text();

}  // namespace linkmargin
