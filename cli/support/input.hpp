#pragma once

#include "linkmargin/report/document/typed_site.hpp"
#include "linkmargin/site/edit/edit.hpp"
#include "linkmargin/site/edit/what_if.hpp"
#include "linkmargin/site/reading.hpp"
#include "linkmargin/site/site.hpp"
#include "linkmargin/text/file_limits.hpp"
#include "linkmargin/yaml/site/tables.hpp"

#include "support/arguments.hpp"

#include <initializer_list>
#include <string>
#include <vector>

namespace linkmargin::cli {

/// The name that stands for it among files.
inline constexpr const char* kStandardInput = "-";

/// The bytes of a file, "-" standing for the standard input.
/// @throws Failure when it cannot be read, or the standard input was read before
std::string read_text(const std::string& file, std::size_t most_bytes = kMaxFileBytes);

/// A file as messages name it.
std::string shown_name(const std::string& file);

/// The site as it was typed, with the options of it that the next command should have too.
TypedSite typed_site(const Arguments& arguments);

/// The embedded tables and what --materials adds to them.
/// @throws Failure when that file cannot be read or is wrong
Tables read_tables(const Arguments& arguments);

/// The site that the first name tells, "-" standing for the standard input.
/// @throws Failure when a file cannot be read (kNoAccess) or is wrong (kBadInput, every fault a line)
Site read_site(const Arguments& arguments);

/// A site with the file that it stands in.
struct SiteFile {
  Site site;
  std::string text;
  std::string name;  ///< as the person gave it, for faults
  Tables tables;
};

/// read_site(), and what it was read from.
SiteFile read_site_file(const Arguments& arguments);

/// The same of a file of its own.
SiteFile read_site_file(const std::string& file, const Tables& tables);

/// @throws Failure when more than one of the files that a command reads is the standard input
void check_standard_input(const Arguments& arguments);

/// @throws Failure when one of these options is given, which go with one site alone
void refuse_with_several(const Arguments& arguments, std::initializer_list<const char*> options);

/// Ends the command with every fault of a file.
[[noreturn]] void refuse(const Diagnostics& faults, const std::string& file);

/// The readings of a file, "-" standing for the standard input, which one file at most may be.
/// @throws Failure as read_site() does
SiteReadings read_readings(const std::string& file, const Site& site);

/// What the reader of an answer is to know of a file of readings, which is named without its folder.
std::vector<Warning> readings_warnings(const std::string& file, const SiteReadings& readings);

/// The list of places of check --at.
std::vector<Device> read_places(const std::string& file, const Site& site);

/// The cases of a file, each tried on the site.
/// @throws Failure as read_site() does
std::vector<NamedEdits> read_cases(const std::string& file, const Site& site);

/// A what-if file, of that site alone, whichever it names.
/// @param site_file  as the person named it
/// @throws Failure as read_site() does
WhatIf read_what_if_of(const std::string& file, const std::string& site_file, const Site& site);

/// Those of --readings; none where it is not given.
SiteReadings given_readings(const Arguments& arguments, const Site& site);

/// The warnings of given_readings().
std::vector<Warning> given_readings_warnings(const Arguments& arguments, const SiteReadings& readings);

/// The files that the command line names to be read: an answer must not be written over them. What they name
/// in turn is known when it was read (files_read.hpp).
std::vector<std::string> input_files(const Arguments& arguments);

/// @throws Failure "unknown WHAT 'WRITTEN'", with the nearest known name or, where none is near, some that
/// exist
[[noreturn]] void unknown_name(const std::string& what, const std::string& written,
                               const std::vector<std::string>& known);

}  // namespace linkmargin::cli
