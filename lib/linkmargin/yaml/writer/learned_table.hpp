#pragma once

#include "linkmargin/site/material.hpp"

#include <map>
#include <string>

namespace linkmargin {

/// The text of a table file that brings what was learned of materials to other sites: the section
/// `learned`, as parse_materials() reads it back, number for number. Numbers are written as shortest_text().
/// @param learned  by name of the material, or none; materials of the table that the file will be read on top
/// of
std::string learned_table_text(const std::map<std::string, LearnedShift>& learned);

}  // namespace linkmargin
