#include "linkmargin/prediction/fitted_shadowing.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/prediction/serving/place_levels.hpp"
#include "linkmargin/prediction/single_failures.hpp"
#include "linkmargin/report/check_report.hpp"
#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/places/places_report.hpp"
#include "linkmargin/report/sites_report.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "support/command.hpp"
#include "support/input.hpp"
#include "support/language.hpp"

#include <algorithm>
#include <iterator>
#include <span>
#include <string>
#include <vector>

namespace linkmargin::cli {
namespace {

bool anything_doubtful(const LinkTable& table) {
  return !table.doubtful_devices.empty();
}

bool anything_weak(const LinkTable& table) {
  return !table.weak_devices.empty() ||
         std::any_of(table.areas.begin(), table.areas.end(), [](const AreaCover& area) { return area.weak; });
}

std::string answer(const Arguments& arguments, const Site& site, const LinkTable& table) {
  switch (output_format(arguments)) {
    case Format::csv:
      return write_csv(check_rows(table, arguments.has("all-pairs")), csv_style(arguments));
    case Format::json:
      return check_json(data_language(arguments), table);
    case Format::text:
      break;
  }
  return write_text(check_document(language_of(arguments, site.units.length), table, typed_site(arguments)),
                    text_style(arguments));
}

std::string answer(const Arguments& arguments, std::span<const CheckedSite> sites) {
  switch (output_format(arguments)) {
    case Format::csv:
      return write_csv(sites_rows(sites, arguments.has("all-pairs")), csv_style(arguments));
    case Format::json:
      return sites_json(data_language(arguments), sites);
    case Format::text:
      break;
  }
  return write_text(sites_document(language_of(arguments), sites), text_style(arguments));
}

std::string answer(const Arguments& arguments, const Site& site, std::span<const Device> places,
                   std::span<const PlacePrediction> levels) {
  switch (output_format(arguments)) {
    case Format::csv:
      return places_csv(site, places, levels, csv_style(arguments));
    case Format::json:
      return places_json(site, places, levels);
    case Format::text:
      break;
  }
  return write_text(places_document(language_of(arguments, site.units.length), site, places, levels),
                    text_style(arguments));
}

/// The places of --at instead of the site's devices.
ExitStatus run_at(const Arguments& arguments, const Site& site, const LinkTableOptions& options,
                  const Scene& scene) {
  for (const char* option : {"all-pairs", "fail-each", "fail-if-doubtful"}) {
    if (arguments.has(option))
      throw Failure(kBadInput, std::string("--") + option + " is about the site's devices, not about --at");
  }
  const std::vector<Device> places = read_places(*arguments.value("at"), site);
  const std::vector<PlacePrediction> levels = place_levels(site, places,
                                                           {.doors = options.doors,
                                                            .direct = options.direct,
                                                            .nearby = options.nearby,
                                                            .threads = options.threads},
                                                           scene);
  write_answer(arguments, answer(arguments, site, places, levels));
  const bool weak = std::ranges::any_of(levels, &PlacePrediction::weak);
  return weak && arguments.has("fail-if-weak") ? kWeak : kDone;
}

bool fails(const Arguments& arguments, const LinkTable& table) {
  const bool doubtful = arguments.has("fail-if-doubtful");
  return ((doubtful || arguments.has("fail-if-weak")) && anything_weak(table)) ||
         (doubtful && anything_doubtful(table));
}

/// One row a site. A file that cannot be read, or is wrong, is told and does not stop the others.
ExitStatus run_all(const Arguments& arguments, const LinkTableOptions& options) {
  refuse_with_several(arguments, {"readings", "fail-each", "at"});
  (void)language_of(arguments);
  const Tables tables = read_tables(arguments);
  std::vector<CheckedSite> sites;
  ExitStatus status = kDone;
  for (const std::string& file : arguments.names) {
    try {
      const Site site = read_site_file(file, tables).site;
      sites.push_back({shown_name(file), link_table(site, options)});
      if (status == kDone && fails(arguments, sites.back().table)) status = kWeak;
    } catch (const Failure& failure) {
      say_failure(failure);
      status = kBadInput;
    }
  }
  if (!sites.empty()) write_answer(arguments, answer(arguments, sites));
  return status;
}

ExitStatus run_check(const Arguments& arguments) {
  LinkTableOptions options;
  options.doors = arguments.doors_open() ? Doors::open : Doors::armed;
  options.all_pairs = arguments.has("all-pairs");
  options.direct = arguments.has("direct");
  options.threads = arguments.threads();
  (void)output_format(arguments);  // a wrong word is told before any work
  if (arguments.names.size() > 1) {
    check_standard_input(arguments);
    return run_all(arguments, options);
  }
  const Site site = read_site(arguments);
  const SiteReadings given = given_readings(arguments, site);
  options.readings = given.readings;
  const Scene scene(site, options.doors, options.threads);
  options.nearby = fitted_shadowing(site, given.readings, options.doors, scene, options.threads);
  if (arguments.has("at")) return run_at(arguments, site, options, scene);
  LinkTable table = link_table(site, options, scene);
  if (arguments.has("fail-each")) table.failures = single_failures(site, options, table);
  std::ranges::move(given_readings_warnings(arguments, given), std::back_inserter(table.warnings));
  write_answer(arguments, answer(arguments, site, table));
  return fails(arguments, table) ? kWeak : kDone;
}

}  // namespace

const Command& check_command() {
  static const Command command{
      .name = "check",
      .summary = "predicts every device: hub, reading, chance, main cause, and whether it is weak",
      .usage = "check SITE... [options]",
      .details =
          "Predicts the link of every device of a site file, the worst first, with its main cause; on what "
          "share of each area remotes work; and the slots used at each hub. SITE is a file, or - for the "
          "standard input. Of several sites one row each is printed; a fault in one does not stop the "
          "others.",
      .options =
          {kFormat,
           kOutput,
           kCsvStyle,
           kPrecise,
           kDoors,
           {"all-pairs", "",
            "every device with every hub and repeater, not only with the one that serves it"},
           {"direct", "", "every device straight to its hub, as though there were no repeaters"},
           with_detail(
               {"fail-each", "", "what is lost if one hub or repeater fails, each in turn; text and json"},
               "That is what is enrolled there by name, and what no other path serves; in JSON, failures."),
           {"at", "FILE",
            "predict a list of places (CSV: profile, storey, x_m, y_m, height_m; name and hub if wanted) "
            "instead of the site's devices"},
           with_detail({"fail-if-weak", "", "exit with status 3 if a device or an area is weak"},
                       "A hub that is full does not count."),
           {"fail-if-doubtful", "", "the same, and if a device is doubtful"},
           kDecidingReadings,
           kMaterials,
           kLanguage,
           kThreads,
           kHelp},
      .examples = {"linkmargin check site.yaml", "which devices are weak, and why",
                   "linkmargin check site.yaml --doors open", "with doors open, as during working hours",
                   "linkmargin check site.yaml --format csv --output site.csv", "a table for a spreadsheet",
                   "linkmargin check site.yaml --readings today.csv", "corrected by the readings taken today",
                   "linkmargin check site.yaml --at places.csv --output levels.csv",
                   "a list of places, for a survey or a comparison",
                   "linkmargin check site.yaml --fail-if-weak",
                   "for a script: status 3 if something is weak"},
      .least_names = 1,
      .most_names = kAnyCount,
      .names_are_files = true,
      .run = run_check};
  return command;
}

}  // namespace linkmargin::cli
