#pragma once

#include "sections.hpp"

#include <filesystem>
#include <string>

namespace linkmargin::validation {

/// The furnished flat at 2.4 GHz, from its folder. Kept when the program's own interval holds what it claims.
Section flat_section(const std::filesystem::path& folder);

/// An open-plan office and a library at 2.4 GHz, from their folders.
std::string open_office_text(const std::filesystem::path& folder);
std::string library_text(const std::filesystem::path& folder);

/// The office floor at 868 MHz, from its folder.
std::string office_text(const std::filesystem::path& folder);

/// What calibration makes of the flat's readings. Kept when every figure asked for is.
Section flat_learning_section(const std::filesystem::path& folder);

/// And of the office's six links.
std::string office_learning_text(const std::filesystem::path& folder);

}  // namespace linkmargin::validation
