#include "linkmargin/analysis/survey/present_readings.hpp"
#include "linkmargin/prediction/fitted_shadowing.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/report/check_report.hpp"
#include "linkmargin/report/document/write_csv.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "support/command.hpp"
#include "support/input.hpp"
#include "support/language.hpp"

#include <algorithm>
#include <iterator>
#include <vector>

namespace linkmargin::cli {
namespace {

bool anything_weak(const LinkTable& table) {
  return !table.weak_devices.empty() ||
         std::any_of(table.areas.begin(), table.areas.end(), [](const AreaCover& area) { return area.weak; });
}

std::string answer(const Arguments& arguments, const LinkTable& table) {
  switch (output_format(arguments)) {
    case Format::csv:
      return write_csv(check_rows(table, arguments.has("all-pairs")));
    case Format::json:
      return check_json(data_language(arguments), table);
    case Format::text:
      break;
  }
  return write_text(check_document(language_of(arguments), table), text_style(arguments));
}

ExitStatus run(const Arguments& arguments) {
  LinkTableOptions options;
  options.doors = arguments.doors_open() ? Doors::open : Doors::armed;
  options.all_pairs = arguments.has("all-pairs");
  options.threads = arguments.threads();
  (void)output_format(arguments);  // a wrong word is told before any work
  const Site site = read_site(arguments);
  const SiteReadings given = given_readings(arguments, site);
  options.nearby = fitted_shadowing(site, given.readings, options.doors, options.threads);
  LinkTable table = link_table(site, options);
  std::ranges::move(read_weak_warnings(site, given.readings, options.doors, table.links),
                    std::back_inserter(table.warnings));
  std::ranges::move(given_readings_warnings(arguments, given), std::back_inserter(table.warnings));
  write_answer(arguments, answer(arguments, table));
  return arguments.has("fail-if-weak") && anything_weak(table) ? kWeak : kDone;
}

}  // namespace

const Command& check_command() {
  static const Command command{
      .name = "check",
      .summary = "predicts every device: hub, reading, chance, main cause, and whether it is weak",
      .usage = "check SITE [options]",
      .details =
          "Predicts the link of every device of a site file, the worst first, with its main cause; on what "
          "share of each area remotes work; and the slots used at each hub. SITE is a file, or - for the "
          "standard input.",
      .options = {kFormat,
                  kOutput,
                  kDoors,
                  {"all-pairs", "", "every device with every hub, not only with the one that serves it"},
                  {"fail-if-weak", "", "exit with status 3 if a device or an area is weak"},
                  kReadings,
                  kMaterials,
                  kLanguage,
                  kThreads,
                  kHelp},
      .examples = {"linkmargin check site.yaml", "which devices are weak, and why",
                   "linkmargin check site.yaml --doors open", "with doors open, as during working hours",
                   "linkmargin check site.yaml --format csv --output site.csv", "a table for a spreadsheet",
                   "linkmargin check site.yaml --readings today.csv", "corrected by the readings taken today",
                   "linkmargin check site.yaml --fail-if-weak",
                   "for a script: status 3 if something is weak"},
      .least_names = 1,
      .most_names = 1,
      .run = run};
  return command;
}

}  // namespace linkmargin::cli
