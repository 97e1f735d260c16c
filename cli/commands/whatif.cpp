#include "linkmargin/analysis/what_if/what_if.hpp"
#include "linkmargin/report/document/write_text.hpp"
#include "linkmargin/report/what_if/what_if_picture.hpp"
#include "linkmargin/report/what_if/what_if_report.hpp"
#include "linkmargin/report/what_if/what_if_rows.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "output/output_place.hpp"
#include "output/picture.hpp"
#include "rows/row_file.hpp"
#include "rows/row_merge.hpp"
#include "rows/what_if_files.hpp"
#include "support/command.hpp"
#include "support/input.hpp"
#include "support/interruption.hpp"
#include "support/language.hpp"
#include "support/progress_line.hpp"

#include <charconv>
#include <memory>

namespace linkmargin::cli {
namespace {

constexpr std::uint64_t kMostShards = 100'000;

/// text, csv or json, by --format, else by the ending of --output: .jsonl is what JSON Lines are called.
std::string format_of(const Arguments& arguments) {
  const std::string output = arguments.value("output").value_or("-");
  const auto ends = [&](std::string_view ending) {
    return output.size() > ending.size() && output.ends_with(ending);
  };
  if (ends(".jsonl") &&
      (!arguments.has("format") || arguments.word("format", {"text", "csv", "json"}) == "json"))
    return "json";
  return output_format(arguments, {"text", "csv", "json"}, "text");
}

/// The runs of --shard I/N: as many as its neighbours' or one more.
std::pair<std::uint64_t, std::uint64_t> shard_of(const Arguments& arguments, std::uint64_t runs) {
  const auto text = arguments.value("shard");
  if (!text) return {1, runs};
  std::uint64_t shard = 0, shards = 0;
  const char* end = text->data() + text->size();
  const auto slash = std::from_chars(text->data(), end, shard);
  const bool parted = slash.ec == std::errc() && slash.ptr != end && *slash.ptr == '/';
  const auto rest = parted ? std::from_chars(slash.ptr + 1, end, shards) : slash;
  if (!parted || rest.ec != std::errc() || rest.ptr != end || shard < 1 || shard > shards ||
      shards > kMostShards)
    throw Failure(kBadInput, "--shard takes I/N, a shard and how many there are: 1/4, 2/4 and so on, not '" +
                                 *text + "'");
  if (shards > runs)
    throw Failure(kBadInput, "there are " + std::to_string(runs) + " runs: too few for " +
                                 std::to_string(shards) + " shards");
  const auto before = [&](std::uint64_t count) {
    return runs / shards * count + runs % shards * count / shards;
  };
  return {before(shard - 1) + 1, before(shard)};
}

/// Ends the command where several swept values do not go together; one by one they were tried when the file
/// was read. Of more than so many variants the others are seen when their run comes.
void refuse_impossible(const WhatIf& runs) {
  constexpr std::uint64_t tried = 5000;  // some second
  constexpr std::size_t told = 20;
  if (runs.sweep.size() < 2) return;
  std::vector<std::string> faults = impossible_variants(runs, tried);
  if (faults.empty()) return;
  const std::size_t all = faults.size();
  if (all > told) faults.resize(told);
  faults.push_back(std::to_string(all) + (all == 1 ? " combination" : " combinations") +
                   " of values cannot be");
  throw Failure(kBadInput, std::move(faults));
}

/// What is to be run, and where its rows go.
struct Job {
  const WhatIfFiles& files;
  WhatIfOptions options;
  std::string format;
  RowPlan plan;

  bool writes_rows() const { return format != "text"; }
  bool all() const { return plan.first_run == 1 && plan.last_run == plan.all_runs; }
};

Job job_of(const Arguments& arguments, const WhatIfFiles& files) {
  Job job{.files = files, .options = {}, .format = format_of(arguments), .plan = {}};
  job.options.doors = arguments.doors_open() ? Doors::open : Doors::armed;
  job.options.threads = arguments.threads();
  if (arguments.has("devices")) job.options.devices = what_if_devices(files.what_if);
  job.plan.all_runs = WhatIfRuns(files.what_if).count();
  std::tie(job.plan.first_run, job.plan.last_run) = shard_of(arguments, job.plan.all_runs);
  const std::vector<std::string> options{
      job.format, arguments.doors_open() ? "open" : "armed", arguments.has("devices") ? "devices" : "",
      arguments.value("csv-style").value_or(""), arguments.has("precise") ? "precise" : ""};
  job.plan.fingerprint = fingerprint(files, options);
  const std::string output = arguments.value("output").value_or("-");
  if (arguments.has("shard") && !job.writes_rows())
    throw Failure(kBadInput, "--shard is for rows: give --format csv or --output FILE.csv with it");
  if (arguments.has("resume") && (!job.writes_rows() || goes_to_stream(output)))
    throw Failure(kBadInput, "--resume needs the file of rows that was begun: --output FILE.csv");
  return job;
}

void say_lost(const RowFile& file, const std::string& name) {
  if (file.rows_lost() == 0) return;
  say_failure(Failure(kDone, "'" + name + "': from run " + std::to_string(file.next_run()) +
                                 " on the rows are not those that were written; they are made again"));
}

/// Makes the runs that are missing. @return the run after the last one made
std::uint64_t made(const Arguments& arguments, Job& job, WhatIfStatistics& statistics) {
  const WhatIf& runs = job.files.what_if;
  const WhatIfRowText text(
      runs, job.options.devices,
      {job.format == "csv" ? RowFormat::csv : RowFormat::json_lines, csv_style(arguments)});
  const std::string output = arguments.value("output").value_or("-");
  std::unique_ptr<RowFile> file;
  std::uint64_t next = job.plan.first_run;
  if (job.writes_rows() && !goes_to_stream(output)) {
    const auto take_run = [&](std::uint64_t run, std::span<const std::string_view> lines) {
      const auto figures = text.figures(lines);
      if (!figures || figures->run != run) return false;
      statistics.add(run, figures->worst_reading_percent, figures->weak_count);
      return true;
    };
    file = std::make_unique<RowFile>(
        output, job.plan, RowLayout{text.header(), text.line_end(), text.lines_per_run(), take_run},
        arguments.has("resume"));
    next = file->next_run();
    say_lost(*file, output);
  } else if (job.writes_rows()) {
    write_answer(arguments, text.header());
  }
  const std::uint64_t begun = next;
  const Interruption interruption;
  ProgressLine line("runs");
  const auto render = [&](std::span<const WhatIfRow> rows) {
    return job.writes_rows() ? text.rows(rows) : std::string();
  };
  const auto take = [&](WhatIfBlock block) {
    if (file) file->add(block.text, block.rows.size());
    if (!file && job.writes_rows()) write_answer(arguments, block.text);
    for (const WhatIfRow& row : block.rows) {
      const WhatIfFigures figures = text.figures(row);
      statistics.add(row.run, figures.worst_reading_percent, figures.weak_count);
    }
    next += block.rows.size();
    line.show_rate(next - begun, job.plan.last_run + 1 - begun);
    return !interruption.came();
  };
  job.options.first_run = next;
  job.options.last_run = job.plan.last_run;
  try {
    if (next <= job.plan.last_run) what_if(runs, job.options, render, take);
  } catch (const DomainError& fault) {
    throw Failure(kBadInput, fault.what());
  }
  if (file && next > job.plan.last_run) file->finish();
  return next;
}

ExitStatus interrupted(const Job& job, std::uint64_t next, bool to_file) {
  say_failure(Failure(kInterrupted, "interrupted after " + std::to_string(next - job.plan.first_run) +
                                        " of " + std::to_string(job.plan.last_run + 1 - job.plan.first_run) +
                                        " runs" +
                                        (to_file ? ": the same command with --resume goes on" : "")));
  return kInterrupted;
}

/// Where --picture goes, and as what.
struct PictureOut {
  FileOut file;
  std::string format;
};

std::optional<PictureOut> picture_out(const Arguments& arguments) {
  if (!arguments.has("picture")) return {};
  for (const char* option : {"merge", "shard"}) {
    if (arguments.has(option))
      throw Failure(kBadInput, std::string("--picture shows all runs: leave it out with --") + option);
  }
  PictureOut out{file_beside(arguments, "picture"), {}};
  out.format = ending_format("picture", out.file.file, {"svg", "png", "pdf"}, "svg");
  require_picture(out.format);
  std::vector<FileOut> all{out.file};
  const std::string output = arguments.value("output").value_or(kStandardOutput);
  if (!goes_to_stream(output)) all.push_back({"output", output});
  check_files_out(all, input_files(arguments));
  return out;
}

ExitStatus run_whatif(const Arguments& arguments) {
  const std::optional<PictureOut> of_picture = picture_out(arguments);
  if (arguments.has("merge")) {
    const std::string output = arguments.value("output").value_or("-");
    if (goes_to_stream(output))
      throw Failure(kBadInput, "--merge needs a file for all rows: --output FILE.csv");
    merge_rows(arguments.names, output);
    return kDone;
  }
  if (arguments.names.size() > 1)
    throw Failure(kBadInput, "one what-if file at a time; several files go with --merge");
  const Language& language = language_of(arguments);  // a wrong one is refused before any work
  const WhatIfFiles files = read_what_if(arguments);
  refuse_impossible(files.what_if);
  Job job = job_of(arguments, files);
  const std::string output = arguments.value("output").value_or("-");
  const bool to_file = job.writes_rows() && !goes_to_stream(output);
  WhatIfStatistics statistics(files.what_if);
  const std::uint64_t next = made(arguments, job, statistics);
  if (next <= job.plan.last_run) return interrupted(job, next, to_file);
  const bool rows_alone = job.writes_rows() && !to_file;
  if ((rows_alone && !of_picture) || !job.all()) return kDone;
  WhatIfSummary summary = what_if_summary(files.what_if, job.options);
  if (statistics.runs() > files.what_if.sites.size() * summary.cases.size())
    summary.statistics = statistics.cases();
  std::vector<std::pair<FileOut, std::string>> beside;
  if (of_picture)
    beside.emplace_back(of_picture->file, picture(what_if_svg(language, summary), of_picture->format));
  const std::string text =
      rows_alone ? std::string() : write_text(what_if_document(language, summary), text_style(arguments));
  if (to_file || rows_alone) {
    FilesTogether pictures;
    for (auto& [out, content] : beside) pictures.add(out, std::move(content));
    pictures.write();
    write_standard_output(text);
  } else {
    write_answer(arguments, beside, text);
  }
  return kDone;
}

}  // namespace

const Command& whatif_command() {
  static const Command command{
      .name = "whatif",
      .summary = "compares changes to a site: cases, swept values and random draws",
      .usage = "whatif FILE [options]",
      .details =
          "FILE (YAML, see docs/site-file.md) names one or more sites and what to change: cases, swept "
          "values, random draws. Prints what each case does to the site, how the runs spread, and what "
          "matters most. With --format csv or json, or an --output that ends in .csv or .jsonl, every run is "
          "a row. A journal is kept beside a file of rows: after an interruption the same command with "
          "--resume goes on where the rows end. --shard divides the runs among machines; --merge joins their "
          "files into what one machine would write, byte for byte.",
      .options =
          {{"format",
            "FORMAT",
            "text, csv or json (one object a line); default: by the ending of --output, else text",
            "",
            {"text", "csv", "json"}},
           {"output", "FILE",
            "write to this file; rows go into a .csv or .jsonl file, and the summary to the terminal", "o"},
           with_detail(
               {"picture", "FILE",
                "draw what the weakest reading depends on, and how it lies in each case: .svg, .png or .pdf"},
               "A bar for each thing that the weakest reading depends on, from its lowest to its highest, "
               "the threshold marked; SVG where the name has no ending. Beside rows in CSV it is drawn from "
               "the figures as written. It does not go with --shard and --merge."),
           {"devices", "",
            "a row for every device of a run: device, reading_percent, weak; in json one object a run, "
            "with readings_percent and weak_devices"},
           kCsvStyle,
           kPrecise,
           with_detail({"resume", "", "continue a file of rows that is not finished"},
                       "It is begun where there is none."),
           {"shard", "I/N", "only part I of N of the runs, such as 2/8"},
           with_detail({"merge", "", "the names are files of shards: join them into --output"},
                       "The result is byte for byte what one process writes. A part that is not what was "
                       "written is refused and named."),
           kDoors,
           kMaterials,
           kLanguage,
           kThreads,
           kHelp},
      .examples = {"linkmargin whatif cases.yaml", "what each case changes, and what matters most",
                   "linkmargin whatif cases.yaml --picture cases.pdf", "the same as a picture beside",
                   "linkmargin whatif cases.yaml --output runs.csv", "every run as a row",
                   "linkmargin whatif cases.yaml --output runs.csv --resume", "the rest, after a power cut",
                   "linkmargin whatif --merge part-*.csv --output runs.csv", "join the shards"},
      .least_names = 1,
      .most_names = kAnyCount,
      .names_are_files = true,
      .run = run_whatif};
  return command;
}

}  // namespace linkmargin::cli
