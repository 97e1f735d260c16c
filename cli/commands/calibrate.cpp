#include "linkmargin/analysis/calibration/hold_out.hpp"
#include "linkmargin/analysis/calibration/learned_materials.hpp"
#include "linkmargin/analysis/survey/reading_advice.hpp"
#include "linkmargin/report/calibration_report.hpp"
#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/map/calibration_picture.hpp"
#include "linkmargin/report/words/wording.hpp"
#include "linkmargin/yaml/writer/learned_table.hpp"
#include "linkmargin/yaml/writer/site_edit.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "output/picture.hpp"
#include "support/calibrate_files.hpp"
#include "support/command.hpp"
#include "support/language.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin::cli {
namespace {

constexpr Range kAdviseRange{1, 50, "--advise", "a walk of more is no short one"};
constexpr std::size_t kMaterialsNamed = 8;

Doors doors_of(const Arguments& arguments) {
  return arguments.doors_open() ? Doors::open : Doors::armed;
}

std::optional<int> advised_count(const Arguments& arguments) {
  const auto count = arguments.number("advise", kAdviseRange);
  if (!count) return {};
  if (*count != std::floor(*count))
    throw Failure(kBadInput, "--advise takes a whole number, not '" + *arguments.value("advise") + "'");
  return static_cast<int>(*count);
}

std::vector<ReadingAdvice> advised(const Arguments& arguments, const CalibrationInput& input,
                                   const CalibrationReport& report, std::optional<int> count) {
  std::vector<ReadingAdvice> advice;
  if (!count) return advice;
  for (std::size_t job = 0; job < input.jobs.size(); ++job) {
    advice.push_back(
        reading_advice(report.sites[job], input.jobs[job].readings,
                       {.count = *count, .doors = doors_of(arguments), .threads = arguments.threads()}));
  }
  return advice;
}

/// What is to be known of a scale that nobody stated.
std::vector<Warning> scale_warnings(const CalibrationInput& input) {
  std::vector<Warning> warnings;
  for (std::size_t job = 0; job < input.jobs.size(); ++job) {
    const auto in_percent = [](const Reading& reading) { return reading.percent.has_value(); };
    if (std::ranges::none_of(input.jobs[job].readings, in_percent) || states_scale(input.files[job]))
      continue;
    const ReadingScale& scale = input.jobs[job].site.reading;
    warnings.push_back({.code = WarningCode::scale_assumed,
                        .arguments = {{"site", Quoted{input.jobs[job].site.name}},
                                      {"zero", Figure{scale.zero.value}},
                                      {"full", Figure{scale.full.value}}}});
  }
  return warnings;
}

/// @return what will be written, a sentence each
std::vector<std::string> add_sites(const Wording& wording, FilesTogether& files,
                                   const CalibrationOutput& output, const CalibrationInput& input,
                                   const CalibrationReport& report) {
  std::vector<std::string> written;
  for (std::size_t job = 0; job < output.sites.size(); ++job) {
    const SiteFile& file = input.files[job];
    auto text = edited_text(file.text, file.name, calibrated_edits(report, job), file.tables);
    if (!text) refuse(text.error(), file.name);
    files.add(output.sites[job], std::move(*text));
    written.push_back(wording.say(
        "calibrate.files.site",
        {{"file", wording.name(output.sites[job].file)}, {"site", wording.name(input.jobs[job].site.name)}}));
  }
  return written;
}

std::vector<std::string> add_learned(const Wording& wording, FilesTogether& files,
                                     const CalibrationOutput& output, const CalibrationInput& input,
                                     const CalibrationReport& report) {
  if (!output.learned) return {};
  const LearnedMaterials learned =
      learned_materials(input.jobs, report, input.tables.materials, embedded_tables().materials);
  files.add(*output.learned, learned_table_text(learned.shifts));
  const Language::Place file{"file", wording.name(output.learned->file)};
  std::vector<std::string> names;
  for (const auto& [name, shift] : learned.shifts) names.push_back(wording.language().material(name));
  std::vector<std::string> written;
  written.push_back(names.empty() ? wording.say("calibrate.files.learned_nothing", {file})
                                  : wording.say("calibrate.files.learned",
                                                {file, {"names", wording.names(names, kMaterialsNamed)}}));
  if (!learned.own.empty()) {
    written.push_back(wording.counted("calibrate.files.own", learned.own.size(),
                                      {file, {"names", wording.names(learned.own, kMaterialsNamed)}}));
  }
  return written;
}

std::vector<std::string> add_picture(const Wording& wording, const Language& of_picture, FilesTogether& files,
                                     const CalibrationOutput& output, const CalibrationInput& input,
                                     const CalibrationReport& report) {
  if (!output.picture) return {};
  files.add(*output.picture, picture(calibration_svg(of_picture, input.jobs, report), output.picture_format));
  return {wording.say("calibrate.files.picture", {{"file", wording.name(output.picture->file)}})};
}

/// Of the first site.
LengthUnit unit_of(const CalibrationInput& input) {
  return input.jobs.front().site.units.length;
}

std::string answer(const Arguments& arguments, const CalibrationInput& input, const CalibrationReport& report,
                   const std::vector<ReadingAdvice>& advice, const CalibrationNotes& notes) {
  switch (arguments.format()) {
    case Format::csv:
      return write_csv(calibration_rows(data_language(arguments), input.jobs, report), csv_style(arguments));
    case Format::json:
      return calibration_json(data_language(arguments), input.jobs, report, advice, notes);
    case Format::text:
      break;
  }
  return write_text(
      calibration_document(language_of(arguments, unit_of(input)), input.jobs, report, advice, notes),
      text_style(arguments));
}

ExitStatus run_calibrate(const Arguments& arguments) {
  check_csv_style(arguments, arguments.format() == Format::csv);  // wrong words are refused before any work
  const auto count = advised_count(arguments);
  const CalibrationOutput output = planned_output(arguments);
  const CalibrationInput input = read_pairs(arguments);
  const CalibrationOptions options{.doors = doors_of(arguments), .threads = arguments.threads()};
  const CalibrationReport report = calibration(input.jobs, options);
  const std::vector<ReadingAdvice> advice = advised(arguments, input, report, count);
  const bool for_people = arguments.format() == Format::text;
  const Wording wording(for_people ? language_of(arguments) : data_language(arguments));
  CalibrationNotes notes{.cautions = scale_warnings(input)};
  if (const auto share = arguments.number("hold-out", kHoldOutShare))
    notes.held_back = hold_out(input.jobs, options, *share);
  notes.cautions.insert(notes.cautions.end(), input.warnings.begin(), input.warnings.end());
  FilesTogether files;
  for (const auto& written :
       {add_sites(wording, files, output, input, report), add_learned(wording, files, output, input, report),
        add_picture(wording, language_of(arguments), files, output, input, report)})
    notes.files.insert(notes.files.end(), written.begin(), written.end());
  files.write();
  Arguments answered = arguments;
  answered.options.erase("output");  // here it names the calibrated site; the answer is for the eyes
  write_answer(answered, answer(answered, input, report, advice, notes));
  return kDone;
}

}  // namespace

const Command& calibrate_command() {
  static const Command command{
      .name = "calibrate",
      .summary = "learns from readings: levels, scale and wall losses, and which readings to check",
      .usage = "calibrate SITE READINGS [SITE READINGS]... [options]",
      .details =
          "Learns from readings taken on site (CSV) what equipment, scale and walls really are, and how sure "
          "that is. One reading is enough to start. A reading of 0 or 100 % counts as a limit. A reading far "
          "from what was expected counts for little and is listed with what to check. Several pairs share "
          "what is learned about walls; each site keeps its own offset. --output writes the calibrated site; "
          "the site files read stay as they are.",
      .options =
          {{"format", "FORMAT", "text (default), csv or json"},
           kCsvStyle,
           kPrecise,
           with_detail(
               {"output", "OUT",
                "write the calibrated site to this file; with several sites, write each under its own "
                "name into this folder, which must exist",
                "o"},
               "Comments and order stay. A site file that is read is never replaced."),
           with_detail({"learned", "FILE", "write the losses learned, for --materials at other sites"},
                       "Those that --materials held go in too. A material of the site's own, or of a "
                       "--materials file, is left out and named: only this site defines it."),
           with_detail(
               {"picture", "FILE", "draw what was read against what was expected: .svg, .png or .pdf"},
               "The picture shows the range in which nine of ten readings lie; it is SVG where the name has "
               "no ending."),
           with_detail({"advise", "N", "list the 1 to 50 next readings at each site that would help most"},
                       "The best comes first, each given those before it."),
           with_detail(
               {"hold-out", "SHARE",
                "also calibrate without this share of the links (0.05 to 0.5) and tell how far off they are"},
               "That is the figure to quote. What is written is learned from all."),
           {"doors", "STATE",
            "for readings that do not say: taken with doors armed (default), all closed; or open"},
           kMaterials,
           kLanguage,
           kThreads,
           kHelp},
      .examples = {"linkmargin calibrate site.yaml today.csv", "what the readings say, and which to check",
                   "linkmargin calibrate site.yaml today.csv --output learned.yaml",
                   "the calibrated site, for check, coverage and the rest",
                   "linkmargin calibrate a.yaml a.csv b.yaml b.csv --learned walls.yaml",
                   "wall losses learned at two sites, for a third",
                   "linkmargin calibrate site.yaml today.csv --advise 3", "also where to read next"},
      .least_names = 2,
      .most_names = kAnyCount,
      .names_are_files = true,
      .run = run_calibrate};
  return command;
}

}  // namespace linkmargin::cli
