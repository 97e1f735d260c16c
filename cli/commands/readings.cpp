#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/readings_sheet.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "support/command.hpp"
#include "support/input.hpp"

namespace linkmargin::cli {
namespace {

ExitStatus run_readings(const Arguments& arguments) {
  (void)output_format(arguments, {"csv"}, "csv");  // a wrong ending is told before any work
  const Site site = read_site(arguments);
  write_answer(arguments, write_csv(readings_sheet(site), csv_style(arguments)));
  return kDone;
}

}  // namespace

const Command& readings_command() {
  static const Command command{
      .name = "readings",
      .summary = "writes the sheet to fill in on site: a row for each device and repeater (CSV)",
      .usage = "readings SITE [options]",
      .details =
          "Writes a sheet of readings with nothing read yet: where each device and each repeater is, and "
          "empty "
          "columns for the reading in percent, the state of the doors, when it was taken, and the repeater "
          "that "
          "the device was enrolled at (via). Fill in what you read, leave the other rows as they are, write "
          "'not heard' where nothing arrives, and give the file to calibrate, or to check, explain, "
          "coverage, "
          "relocate and report as --readings.",
      .options = {kOutput, kCsvStyle, kMaterials, kHelp},
      .examples = {"linkmargin readings site.yaml --output today.csv", "the sheet for today's visit",
                   "linkmargin check site.yaml --readings today.csv", "once it is filled in"},
      .least_names = 1,
      .most_names = 1,
      .run = run_readings};
  return command;
}

}  // namespace linkmargin::cli
