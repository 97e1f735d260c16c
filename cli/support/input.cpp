#include "support/input.hpp"

#include "linkmargin/base/shell_word.hpp"
#include "linkmargin/site/trade_words.hpp"
#include "linkmargin/yaml/readings/places_csv.hpp"
#include "linkmargin/yaml/readings/readings_csv.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"
#include "linkmargin/yaml/what_if/cases_yaml.hpp"
#include "linkmargin/yaml/what_if/what_if_yaml.hpp"

#include "support/failure.hpp"
#include "support/files_read.hpp"

#include <cstdio>
#include <filesystem>
#include <unistd.h>

namespace linkmargin::cli {
namespace {

/// Options that name a file to be read.
constexpr const char* kInputOptions[] = {"materials", "readings", "cases",  "before", "what-if",
                                         "language",  "at",       "layers", "under"};

/// Their time goes with the cube of the readings: 2000 of one hub take some 7 s, twice as many a minute.
constexpr std::size_t kMostNearby = 3000;

/// @throws Failure when another file took it before: nothing is left of it then
std::string read_standard_input(std::size_t most_bytes) {
  static bool taken = false;
  if (taken) throw Failure(kBadInput, "the standard input cannot be two of the files");
  taken = true;
  std::string text(most_bytes + 1, '\0');
  text.resize(std::fread(text.data(), 1, text.size(), stdin));
  note_read(STDIN_FILENO, shown_name(kStandardInput));
  if (std::ferror(stdin) != 0) throw Failure(kNoAccess, "the standard input could not be read");
  return text;
}

}  // namespace

std::string shown_name(const std::string& file) {
  return file == kStandardInput ? "standard input" : file;
}

std::string read_text(const std::string& file, std::size_t most_bytes) {
  if (file == kStandardInput) return read_standard_input(most_bytes);
  note_read(file, file);
  const auto text = read_text_file(file, most_bytes);
  if (!text) throw Failure(kNoAccess, std::vector<std::string>{to_text(text.error().front())});
  return *text;
}

void refuse_with_several(const Arguments& arguments, std::initializer_list<const char*> options) {
  for (const char* option : options) {
    if (arguments.has(option))
      throw Failure(kBadInput, std::string("--") + option + " goes with one site at a time");
  }
}

void refuse(const Diagnostics& faults, const std::string& file) {
  std::vector<std::string> lines;
  for (const Diagnostic& fault : faults) lines.push_back(to_text(fault));
  if (faults.size() <= kMostFaults) {  // else the last one counts them
    lines.push_back(std::to_string(faults.size()) + (faults.size() == 1 ? " fault in " : " faults in ") +
                    shown_name(file));
  }
  throw Failure(kBadInput, std::move(lines), faults.size());
}

TypedSite typed_site(const Arguments& arguments) {
  TypedSite typed;
  if (arguments.names.front() != kStandardInput) typed.file = shell_word(arguments.names.front());
  for (const char* option : {"readings", "doors", "materials"}) {
    const auto value = arguments.value(option);
    if (!value || *value == kStandardInput) continue;
    const std::string said = std::string(" --") + option + " " + shell_word(*value);
    typed.options += said;
    if (std::string_view(option) == "materials") typed.tables = said;
  }
  return typed;
}

Tables read_tables(const Arguments& arguments) {
  Tables tables = embedded_tables();
  const auto file = arguments.value("materials");
  if (!file) return tables;
  auto materials = parse_materials(read_text(*file), shown_name(*file), tables.materials);
  if (!materials) refuse(materials.error(), *file);
  tables.materials = std::move(*materials);
  return tables;
}

void check_standard_input(const Arguments& arguments) {
  std::size_t from_standard_input = 0;
  const std::size_t files = arguments.names_are_files ? arguments.names.size() : 1;
  for (std::size_t i = 0; i < files; ++i) from_standard_input += arguments.names[i] == kStandardInput ? 1 : 0;
  for (const char* option : kInputOptions)
    from_standard_input += arguments.value(option) == kStandardInput ? 1 : 0;
  if (from_standard_input > 1) throw Failure(kBadInput, "the standard input can be one file only");
}

SiteFile read_site_file(const std::string& file, const Tables& tables) {
  std::string text = read_text(file);
  auto site = parse_site(text, shown_name(file), tables);
  if (!site) refuse(site.error(), file);
  return {std::move(*site), std::move(text), shown_name(file), tables};
}

SiteFile read_site_file(const Arguments& arguments) {
  check_standard_input(arguments);
  return read_site_file(arguments.names.front(), read_tables(arguments));
}

Site read_site(const Arguments& arguments) {
  return read_site_file(arguments).site;
}

SiteReadings read_readings(const std::string& file, const Site& site) {
  auto readings = parse_readings(read_text(file), shown_name(file), site);
  if (!readings) refuse(readings.error(), file);
  return std::move(*readings);
}

std::vector<Warning> readings_warnings(const std::string& file, const SiteReadings& readings) {
  if (readings.ignored_columns.empty()) return {};
  return {{.code = WarningCode::columns_ignored,
           .arguments = {{"file", Quoted{std::filesystem::path(shown_name(file)).filename().string()}},
                         {"columns", QuotedList{readings.ignored_columns}}}}};
}

std::vector<Device> read_places(const std::string& file, const Site& site) {
  auto places = parse_places(read_text(file, kMaxPlacesBytes), shown_name(file), site);
  if (!places) refuse(places.error(), file);
  return std::move(*places);
}

std::vector<NamedEdits> read_cases(const std::string& file, const Site& site) {
  auto cases = parse_cases(read_text(file), shown_name(file), site);
  if (!cases) refuse(cases.error(), file);
  return std::move(*cases);
}

WhatIf read_what_if_of(const std::string& file, const std::string& site_file, const Site& site) {
  const NamedSite named{shown_name(site_file), site};
  auto what_if = parse_what_if(read_text(file), shown_name(file), {&named, 1});
  if (!what_if) refuse(what_if.error(), file);
  return std::move(*what_if);
}

SiteReadings given_readings(const Arguments& arguments, const Site& site) {
  const auto file = arguments.value("readings");
  if (!file) return {};
  SiteReadings readings = read_readings(*file, site);
  if (readings.readings.size() > kMostNearby) {
    throw Failure(kBadInput, shown_name(*file) + " holds " + std::to_string(readings.readings.size()) +
                                 " readings: predictions follow at most " + std::to_string(kMostNearby));
  }
  return readings;
}

std::vector<Warning> given_readings_warnings(const Arguments& arguments, const SiteReadings& readings) {
  return readings_warnings(arguments.value("readings").value_or(""), readings);
}

std::vector<std::string> input_files(const Arguments& arguments) {
  std::vector<std::string> files = arguments.names;
  if (!arguments.names_are_files && !files.empty()) files.resize(1);
  std::erase(files, kStandardInput);
  for (const char* option : kInputOptions) {
    if (const auto file = arguments.value(option)) files.push_back(*file);
  }
  return files;
}

void unknown_name(const std::string& what, const std::string& written,
                  const std::vector<std::string>& known) {
  constexpr std::size_t shown = 12;
  std::string text = "unknown " + what + " '" + written + "'";
  const std::string hint = name_hint(what, written, known);
  if (!hint.empty()) throw Failure(kBadInput, text + " (" + hint + ")");
  if (known.empty()) throw Failure(kBadInput, text + " (there is none)");
  text += " (known:";
  for (std::size_t i = 0; i < known.size() && i < shown; ++i) text += (i == 0 ? " " : ", ") + known[i];
  throw Failure(kBadInput, text + (known.size() > shown ? ", ...)" : ")"));
}

}  // namespace linkmargin::cli
