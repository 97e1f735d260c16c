#include "linkmargin/analysis/relocation/relocation.hpp"
#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/relocation_report.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "support/applied_site.hpp"
#include "support/command.hpp"
#include "support/input.hpp"
#include "support/language.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

namespace linkmargin::cli {
namespace {

/// The devices that words name, each the longest run of words that is a name: quotation marks may be left
/// out.
std::vector<std::string> devices_named(const std::vector<std::string>& words,
                                       const std::vector<std::string>& known) {
  std::vector<std::string> devices;
  for (std::size_t i = 0; i < words.size();) {
    std::string run;
    std::string longest;
    std::size_t next = i;
    for (std::size_t j = i; j < words.size(); ++j) {
      run += (j == i ? "" : " ") + words[j];
      if (std::ranges::find(known, run) == known.end()) continue;
      longest = run;
      next = j + 1;
    }
    if (longest.empty()) unknown_name("device", run, known);
    devices.push_back(longest);
    i = next;
  }
  return devices;
}

RelocationOptions relocation_options(const Arguments& arguments, const Site& site) {
  RelocationOptions options;
  options.doors = arguments.doors_open() ? Doors::open : Doors::armed;
  options.threads = arguments.threads();
  options.chance = arguments.number("chance", kRelocationChance).value_or(options.chance);
  std::vector<std::string> known;
  for (const Device& device : site.devices) known.push_back(device.name);
  options.devices = devices_named({arguments.names.begin() + 1, arguments.names.end()}, known);
  return options;
}

const Language& answer_language(const Arguments& arguments, const Site& site) {
  return output_format(arguments) == Format::text ? language_of(arguments, site.units.length)
                                                  : data_language(arguments);
}

std::string answer(const Arguments& arguments, const Site& site, const Relocation& found) {
  const Language& language = answer_language(arguments, site);
  switch (output_format(arguments)) {
    case Format::csv:
      return write_csv(relocation_rows(language, site, found), csv_style(arguments));
    case Format::json:
      return relocation_json(language, site, found);
    case Format::text:
      break;
  }
  return write_text(relocation_document(language, site, found, typed_site(arguments)), text_style(arguments));
}

ExitStatus run_relocate(const Arguments& arguments) {
  (void)output_format(arguments);  // a wrong word is told before any work
  const SiteFile file = read_site_file(arguments);
  RelocationOptions options = relocation_options(arguments, file.site);
  const SiteReadings given = given_readings(arguments, file.site);
  options.readings = given.readings;
  Relocation found = relocation(file.site, options);
  std::ranges::move(given_readings_warnings(arguments, given), std::back_inserter(found.warnings));
  std::vector<std::pair<FileOut, std::string>> beside;
  if (arguments.value("apply")) {
    beside.emplace_back(file_beside(arguments, "apply"),
                        applied_site(file, chosen_edits(found), found.warnings));
  }
  write_answer(arguments, beside, answer(arguments, file.site, found));
  return kDone;
}

}  // namespace

const Command& relocate_command() {
  static const Command command{
      .name = "relocate",
      .summary =
          "lists what to try for each weak device, in order: centimetres, along its mount, the hub, a "
          "repeater, a cable",
      .usage = "relocate SITE [DEVICE...] [options]",
      .details =
          "Lists what to try for each weak device, or for the devices named: in which order, how far and "
          "which way, what it should then read and with what chance. It never proposes a place outside "
          "may_move. A device whose position is fixed by its standard is shifted by centimetres only.",
      .options = {kFormat, kOutput, kCsvStyle, kPrecise,
                  with_detail(kDecidingReadings,
                              "Rows taken elsewhere, with doors otherwise or with another hub than the "
                              "device's do not say how the device reads now: they are named, and count for "
                              "predictions near by."),
                  kChance,
                  with_detail({"apply", "OUT", "write the site file with the moves chosen first to OUT"},
                              "Nothing else in it changes, and the readings taken before no longer count "
                              "there. Repeaters and hubs to be bought are not put in."),
                  kDoors, kMaterials, kLanguage, kThreads, kHelp},
      .examples = {"linkmargin relocate site.yaml", "every weak device",
                   "linkmargin relocate site.yaml 'hall motion' --readings today.csv",
                   "one device, with the readings taken today",
                   "linkmargin relocate site.yaml --apply moved.yaml",
                   "also a site file with the moves made"},
      .least_names = 1,
      .most_names = kAnyCount,
      .run = run_relocate};
  return command;
}

}  // namespace linkmargin::cli
