#include "linkmargin/analysis/review/site_review.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/page/page.hpp"
#include "linkmargin/report/paper/paper_report.hpp"
#include "linkmargin/report/what_if/what_if_report.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "output/picture.hpp"
#include "support/command.hpp"
#include "support/input.hpp"
#include "support/language.hpp"
#include "support/progress_line.hpp"
#include "support/site_pages.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <ctime>
#include <iterator>
#include <optional>
#include <unistd.h>
#include <utility>
#include <vector>

namespace linkmargin::cli {
namespace {

/// Today by the clock, in UTC, or what SOURCE_DATE_EPOCH says: seconds since 1970, as reproducible builds
/// have it.
std::string date_text() {
  constexpr double most = 253402300799;  // the last second of the year 9999
  std::time_t now = std::time(nullptr);
  if (const char* fixed = std::getenv("SOURCE_DATE_EPOCH"); fixed != nullptr && *fixed != '\0') {
    const auto seconds = parse_number(fixed);
    if (!seconds || *seconds < 0 || *seconds > most || *seconds != std::floor(*seconds))
      throw Failure(kBadInput,
                    "SOURCE_DATE_EPOCH is whole seconds since 1970, not '" + std::string(fixed) + "'");
    now = static_cast<std::time_t>(*seconds);
  }
  std::tm parts{};
  ::gmtime_r(&now, &parts);
  char text[16];
  const std::size_t length = std::strftime(text, sizeof text, "%Y-%m-%d", &parts);
  return {text, length};
}

PageOptions page_options(const Arguments& arguments) {
  const bool for_file = arguments.word("for", {"customer", "file"}) == "file";
  return {.reader = for_file ? Reader::file : Reader::customer,
          .date = date_text(),
          .version = LINKMARGIN_VERSION,
          .shown = plan_framing(arguments)};
}

/// What every site is reviewed by.
ReviewOptions options_of(const Arguments& arguments, const PageOptions& page) {
  return {.doors = arguments.doors_open() ? Doors::open : Doors::armed,
          .single_failures = page.reader == Reader::file,
          .place_trials = arguments.word("try", {"places", "none"}) == "places",
          .threads = arguments.threads()};
}

ReviewOptions options_of(const Arguments& arguments, const PageOptions& page, const SiteFile& file,
                         const SiteReadings& given) {
  ReviewOptions options = options_of(arguments, page);
  options.readings = given.readings;
  if (const auto cases = arguments.value("cases")) options.cases = read_cases(*cases, file.site);
  if (const auto before = arguments.value("before"))
    options.before = read_site_file(*before, file.tables).site;
  return options;
}

/// What the runs of --what-if come to.
std::optional<WhatIfSummary> runs_of(const Arguments& arguments, const Site& site) {
  constexpr std::uint64_t most = 200'000;  // some seconds
  const auto file = arguments.value("what-if");
  if (!file) return {};
  const WhatIf runs = read_what_if_of(*file, arguments.names.front(), site);
  if (const std::uint64_t count = WhatIfRuns(runs).count(); count > most)
    throw Failure(kBadInput, shown_name(*file) + " asks for " + std::to_string(count) +
                                 " runs: a report takes at most " + std::to_string(most) +
                                 ", more are for `linkmargin whatif`");
  try {
    return what_if_runs_summary(
        runs, {.doors = arguments.doors_open() ? Doors::open : Doors::armed, .threads = arguments.threads()});
  } catch (const DomainError& fault) {
    throw Failure(kBadInput, fault.what());  // values that do not go together
  }
}

SiteReview reviewed(const Site& site, ReviewOptions options) {
  ProgressLine line("report");
  options.progress = [&](double share) { line.show(share); };
  try {
    return site_review(site, options);
  } catch (const DomainError& fault) {
    throw Failure(kBadInput, fault.what());  // no hub that hears a profile
  }
}

void write_page(const FileOut& file, std::string html) {
  FilesTogether files;
  files.add(file, std::move(html));
  files.write();
}

/// A page a site, and the index. What is wrong with one site is said and does not stop the others.
ExitStatus run_all(const Arguments& arguments) {
  refuse_with_several(arguments, {"readings", "before", "cases", "what-if"});
  const SitePages pages = planned_pages(arguments);
  const Language& language = language_of(arguments);
  const PageOptions page = page_options(arguments);
  const ReviewOptions options = options_of(arguments, page);
  std::vector<PageSite> sites = read_page_sites(arguments, pages);
  make_folder(pages.folder);
  for (PageSite& one : sites) {
    if (!one.site) continue;
    std::optional<SiteReview> review;
    try {
      review = reviewed(*one.site, options);
    } catch (const Failure& failure) {
      leave_out(one, failure);
      continue;
    }
    write_page(pages.file(one.row.page),
               page_html(*one.site, *review, language_of(arguments, one.site->units.length), page));
    one.row.table = std::move(review->states.front().table);
  }
  std::vector<IndexedSite> rows;
  for (PageSite& one : sites) rows.push_back(std::move(one.row));
  write_page(pages.file(kIndexPage), index_html(rows, language, page));
  const bool all = std::ranges::all_of(rows, [](const IndexedSite& row) { return row.table.has_value(); });
  return all ? kDone : kBadInput;
}

ExitStatus run_report(const Arguments& arguments) {
  if (arguments.names.size() > 1) return run_all(arguments);
  PageOptions page = page_options(arguments);
  const std::string output = arguments.value("output").value_or("-");
  if (output == "-" && ::isatty(STDOUT_FILENO) == 1)
    throw Failure(kBadInput, "a page does not belong on a terminal: name a file, --output report.html");
  const std::string format = ending_format("output", output, {"html", "pdf"}, "html");
  require_picture(format);
  (void)language_of(arguments);  // a wrong one is told before any work
  const SiteFile file = read_site_file(arguments);
  const SiteReadings given = given_readings(arguments, file.site);
  ReviewOptions options = options_of(arguments, page, file, given);
  const std::optional<WhatIfSummary> runs = runs_of(arguments, file.site);
  if (runs) page.what_if = &*runs;
  options.place_trials = options.place_trials && format == "html";  // nothing is tried on paper
  SiteReview review = reviewed(file.site, std::move(options));
  std::ranges::move(given_readings_warnings(arguments, given),
                    std::back_inserter(review.relocation.warnings));
  const Language& language = language_of(arguments, file.site.units.length);
  if (format == "pdf") {
    write_answer(arguments, paged_pdf(paper_pages(file.site, review, language, page), file.site.name));
  } else {
    write_answer(arguments, page_html(file.site, review, language, page));
  }
  return kDone;
}

}  // namespace

const Command& report_command() {
  static const Command command{
      .name = "report",
      .summary =
          "writes a report with plan, devices and what to do, as one HTML page or as a PDF to print: for the "
          "customer, or for the file",
      .usage = "report SITE... [options]",
      .details =
          "Writes one HTML page that needs no other file: the verdict, what to do, the plan with the reading "
          "everywhere, and for each device its reading and range, the signal path, the losses, the cause and "
          "what to try. It opens in any browser, on a phone too. The same input gives the "
          "same page, except for the date; SOURCE_DATE_EPOCH fixes that. Where --output ends in .pdf it is a "
          "report to print, on A4: verdict and plan, what to do, a card for each device that is weak or "
          "doubtful, all devices in a table, and the small print. Of several sites each gets its page "
          "in the folder --output, which is made where it is missing; index.html there leads to them. A "
          "fault "
          "in one does not stop the others.",
      .options =
          {{"output", "FILE",
            "write to this file, .html or .pdf, completely or not at all; a pipe or device is written "
            "directly; of several sites the folder of their HTML pages",
            "o"},
           {"for",
            "READER",
            "customer (default): plain words, on the scale of readings; file: all figures and assumptions "
            "too, and what is lost if one hub or repeater fails",
            "",
            {"customer", "file"}},
           kLanguage,
           with_detail(
               {"cases", "FILE", "cases of edits (YAML), shown side by side"},
               "They are written as for place. The site as it is comes first; a case without edits is not "
               "shown again."),
           with_detail({"what-if", "FILE",
                        "a what-if file (YAML): its runs are made for this site, and shown in pictures"},
                       "Which site the file names does not matter. At most 200,000 runs are shown, as whatif "
                       "shows them."),
           {"before", "FILE", "the site file from before something was moved: shows before and after"},
           {"try",
            "WHAT",
            "places (default): other places of hubs, repeaters and weak devices can be tried on the plan; "
            "none: the page is smaller and sooner done",
            "",
            {"places", "none"}},
           kFrame,
           kDecidingReadings,
           kDoors,
           kMaterials,
           kThreads,
           kHelp},
      .examples = {"linkmargin report site.yaml --output report.html", "the page for the customer",
                   "linkmargin report site.yaml --for file --output file.html",
                   "with all figures, for the file", "linkmargin report site.yaml --output report.pdf",
                   "to print, or to send as a document",
                   "linkmargin report moved.yaml --before site.yaml --output report.html",
                   "what a relocation changed",
                   "linkmargin report site.yaml --language de --output bericht.html", "the same in German",
                   "linkmargin report sites/*.yaml --output pages", "a page a site, and an index"},
      .least_names = 1,
      .most_names = kAnyCount,
      .names_are_files = true,
      .run = run_report};
  return command;
}

}  // namespace linkmargin::cli
