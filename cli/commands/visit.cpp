#include "linkmargin/analysis/visit/visit_plan.hpp"
#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/visit/visit_report.hpp"

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

std::string answer(const Arguments& arguments, const Site& site, const VisitPlan& plan) {
  switch (output_format(arguments)) {
    case Format::csv:
      return write_csv(visit_rows(data_language(arguments), site, plan), csv_style(arguments));
    case Format::json:
      return visit_json(data_language(arguments), site, plan);
    case Format::text:
      break;
  }
  TextStyle style = text_style(arguments);
  style.width = std::min(style.width, kVisitTextWidth);
  return write_text(
      visit_document(language_of(arguments, site.units.length), site, plan, typed_site(arguments)), style);
}

ExitStatus run_visit(const Arguments& arguments) {
  (void)output_format(arguments);  // a wrong word is told before any work
  const double chance = arguments.number("chance", kRelocationChance).value_or(VisitPlanOptions().chance);
  const SiteFile file = read_site_file(arguments);
  const SiteReadings given = given_readings(arguments, file.site);
  VisitPlan plan = visit_plan(file.site, {.doors = arguments.doors_open() ? Doors::open : Doors::armed,
                                          .readings = given.readings,
                                          .chance = chance,
                                          .threads = arguments.threads()});
  std::ranges::move(given_readings_warnings(arguments, given), std::back_inserter(plan.warnings));
  std::vector<std::pair<FileOut, std::string>> beside;
  if (arguments.value("apply"))
    beside.emplace_back(file_beside(arguments, "apply"), applied_site(file, plan.edits, plan.warnings));
  write_answer(arguments, beside, answer(arguments, file.site, plan));
  return kDone;
}

}  // namespace

const Command& visit_command() {
  static const Command command{
      .name = "visit",
      .summary =
          "plans the visit: what to take along, where to go, what to do there, and when each step is done",
      .usage = "visit SITE [options]",
      .details =
          "Chooses what to do so that every weak or doubtful device gets the chance needed, with the fewest "
          "parts bought, then the fewest holes drilled, then the least time. Hubs and repeaters are moved or "
          "added for all devices together, and no device that is good may suffer. The stops come in the "
          "order "
          "of the walk; each ends with a reading, and says what to do if that does not come.",
      .options = {kFormat, kOutput, kCsvStyle, kPrecise, kDecidingReadings, kChance,
                  with_detail({"apply", "OUT", "write the site file with everything done to OUT"},
                              "What is bought is in it too. Nothing else in it changes, and the readings "
                              "taken before no longer count there."),
                  kDoors, kMaterials, kLanguage, kThreads, kHelp},
      .examples = {"linkmargin visit site.yaml", "before the visit",
                   "linkmargin visit site.yaml --readings today.csv", "with the readings taken so far",
                   "linkmargin visit site.yaml --apply after.yaml", "also a site file with everything done"},
      .least_names = 1,
      .most_names = 1,
      .run = run_visit};
  return command;
}

}  // namespace linkmargin::cli
