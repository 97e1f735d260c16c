#include "linkmargin/analysis/coverage/coverage.hpp"

#include "linkmargin/prediction/fitted_shadowing.hpp"
#include "linkmargin/report/coverage_report.hpp"
#include "linkmargin/report/map/coverage_map.hpp"
#include "linkmargin/site/limits.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "output/picture.hpp"
#include "support/command.hpp"
#include "support/input.hpp"
#include "support/language.hpp"
#include "support/progress_line.hpp"

#include <algorithm>
#include <iterator>

namespace linkmargin::cli {
namespace {

constexpr const char* kBest = "best";

/// Half a decibel is 1 % of the usual reading scale: less than a picture or a summary shows.
constexpr double kPictureWithinDb = 0.5;

CoverageValue value_of(const Arguments& arguments) {
  const std::string word = arguments.word("value", {"reading", "level", "margin", "loss", "chance"});
  return word == "level"    ? CoverageValue::level
         : word == "margin" ? CoverageValue::margin
         : word == "loss"   ? CoverageValue::loss
         : word == "chance" ? CoverageValue::chance
                            : CoverageValue::reading;
}

/// The name as typed, when it is one of those.
std::optional<std::string> known_name(const std::string& what, const std::optional<std::string>& written,
                                      const std::vector<std::string>& known) {
  if (written && std::ranges::find(known, *written) == known.end()) unknown_name(what, *written, known);
  return written;
}

template <typename Named>
std::vector<std::string> names_of(const std::vector<Named>& things) {
  std::vector<std::string> names;
  for (const Named& thing : things) names.push_back(thing.name);
  return names;
}

CoverageOptions options_of(const Arguments& arguments, const Site& site, bool chances, bool exact) {
  std::vector<std::string> profiles;
  for (const auto& [name, profile] : site.profiles) {
    if (profile.transmit) profiles.push_back(name);
  }
  CoverageOptions options;
  options.doors = arguments.doors_open() ? Doors::open : Doors::armed;
  options.storey = known_name("storey", arguments.value("storey"), names_of(site.storeys));
  if (arguments.value("hub") != kBest) {
    options.hub = known_name("hub", arguments.value("hub"), names_of(site.hubs));
  }
  options.profile = known_name("profile", arguments.value("profile"), profiles);
  options.height_m = arguments.number("height", limits::kRadioHeightM);
  options.step_m = arguments.number("step", kCoverageStepM).value_or(options.step_m);
  options.chances = chances;
  options.within_db = arguments.number("within", kCoverageWithinDb).value_or(exact ? 0 : kPictureWithinDb);
  options.direct = arguments.has("direct");
  options.threads = arguments.threads();
  return options;
}

CoverageMap computed(const Site& site, CoverageOptions options, const Scene& scene) {
  ProgressLine line("map");
  options.progress = [&](double share) { line.show(share); };
  try {
    return coverage(site, options, scene);
  } catch (const DomainError& fault) {
    throw Failure(kBadInput, fault.what());  // more cells than a map may have, no hub that hears the profile
  }
}

std::string answer(const Arguments& arguments, const std::string& format, const Site& site,
                   const Scene& scene, LinkTableOptions links, const CoverageMap& map, CoverageValue value) {
  if (format == "csv") return coverage_csv(map, csv_style(arguments));
  if (format == "json") return coverage_json(data_language(arguments), site, map, value);
  if (format == "text")
    return write_text(coverage_document(language_of(arguments, site.units.length), site, map, value),
                      text_style(arguments));
  links.doors = map.doors;
  links.all_pairs = true;
  links.direct = arguments.has("direct");
  links.threads = arguments.threads();
  return picture(coverage_svg(language_of(arguments, site.units.length), site, map,
                              link_table(site, links, scene), value, plan_framing(arguments)),
                 format);
}

ExitStatus run_coverage(const Arguments& arguments) {
  const std::string format = output_format(arguments, kPictureFormat.words, "text");
  (void)plan_framing(arguments);  // a wrong word is told before any work
  const CoverageValue value = value_of(arguments);
  const Site site = read_site(arguments);
  require_picture(format);
  const bool chances = format == "csv" || value == CoverageValue::chance;
  CoverageOptions options = options_of(arguments, site, chances, format == "csv" || format == "json");
  const SiteReadings given = given_readings(arguments, site);
  const Scene scene(site, options.doors, options.threads);
  options.nearby = fitted_shadowing(site, given.readings, options.doors, scene, options.threads);
  CoverageMap map = computed(site, options, scene);
  std::ranges::move(given_readings_warnings(arguments, given), std::back_inserter(map.warnings));
  const LinkTableOptions links{.readings = given.readings, .nearby = options.nearby};
  write_answer(arguments, answer(arguments, format, site, scene, links, map, value));
  return kDone;
}

}  // namespace

const Command& coverage_command() {
  static const Command command{
      .name = "coverage",
      .summary = "maps a storey: what a device would read at every place (SVG, PNG, PDF, CSV, JSON)",
      .usage = "coverage SITE [options]",
      .details =
          "Predicts what a device would read at every place of a storey, with one hub or with the best hub "
          "at each place, and draws it under the plan. The weak zone is hatched and outlined. By default it "
          "prints a summary of the rooms; --output with .svg, .png or .pdf draws the map.",
      .options =
          {kPictureFormat,
           kFrame,
           kOutput,
           kCsvStyle,
           kPrecise,
           {"storey", "NAME", "the storey; default: the one with the most devices"},
           with_detail(
               {"height", "M", "metres above the floor; default: the height of most such devices there"},
               "M is -1 to 100. Without such a device there it is the height of most devices of any kind, "
               "else 1.5."),
           {"step", "M", "metres between neighbouring cells, 0.01 to 10; default: 0.05"},
           with_detail(
               {"within", "DB",
                "fill in the cells between others that agree within so many decibels; 0 calculates every "
                "cell; default: 0.5 for text and pictures, 0 for csv and json"},
               "DB is 0 to 6, and counts only with diffraction: on."),
           {"hub",
            "NAME",
            "the map of this hub alone; best (default): the best hub or repeater at each place",
            "",
            {kBest}},
           {"direct", "", "hubs alone, as though there were no repeaters"},
           {"profile", "NAME", "profile of the device; default: the profile of most devices there"},
           {"value",
            "VALUE",
            "reading (default), level, margin, loss or chance",
            "",
            {"reading", "level", "margin", "loss", "chance"}},
           kDoors,
           with_detail(kReadings,
                       "The loss stays the plan's. A map with diffraction: off is then found link by "
                       "link, two to three times as slow, and filled in as --within says."),
           kMaterials,
           kLanguage,
           kThreads,
           kHelp},
      .examples = {"linkmargin coverage site.yaml", "which rooms have weak spots",
                   "linkmargin coverage site.yaml --output map.svg", "the map, for a browser",
                   "linkmargin coverage site.yaml --storey upper --output upper.png",
                   "another storey, for a document", "linkmargin coverage site.yaml --step 0.5 --format csv",
                   "a table for a spreadsheet"},
      .least_names = 1,
      .most_names = 1,
      .run = run_coverage};
  return command;
}

}  // namespace linkmargin::cli
