#include "linkmargin/analysis/placement/model/placement_fewest.hpp"
#include "linkmargin/base/joined.hpp"
#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/map/placement_map.hpp"
#include "linkmargin/report/placement_report.hpp"
#include "linkmargin/yaml/writer/site_edit.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "output/picture.hpp"
#include "support/command.hpp"
#include "support/input.hpp"
#include "support/interruption.hpp"
#include "support/language.hpp"
#include "support/progress_line.hpp"

#include <utility>

namespace linkmargin::cli {
namespace {

std::optional<int> whole(const Arguments& arguments, const std::string& option, const Range& range) {
  const auto number = arguments.number(option, range);
  if (!number) return {};
  if (*number != static_cast<int>(*number))
    throw Failure(kBadInput, "--" + option + " takes a whole number, not " + *arguments.value(option));
  return static_cast<int>(*number);
}

PlacementOptions options_of(const Arguments& arguments, const Site& site) {
  PlacementOptions options;
  options.hubs = whole(arguments, "hubs", kPlacementHubs);
  options.repeaters = whole(arguments, "repeaters", kPlacementRepeaters);
  options.step_m = arguments.number("step", kPlacementStepM).value_or(options.step_m);
  if (arguments.has("doors")) options.doors = {arguments.doors_open() ? Doors::open : Doors::armed};
  if (const auto file = arguments.value("cases")) options.cases = read_cases(*file, site);
  if (arguments.has("chance")) options.target_probability = *arguments.number("chance", kPlacementEnough);
  options.anywhere = arguments.has("anywhere");
  options.best_only = arguments.has("brief");
  options.threads = arguments.threads();
  return options;
}

/// Asked of every device where --chance does not say, as in relocate.
constexpr double kUsualChance = 0.9;

PlacementAnswer computed(const Arguments& arguments, const Site& site, PlacementOptions options,
                         const Interruption& interruption) {
  ProgressLine line("places");
  options.progress = [&](double share) { line.show(share); };
  options.stop = [&] { return interruption.came(); };
  try {
    const std::string objective = arguments.word("objective", {"worst", "sum", "parts"});
    if (objective == "parts")
      return fewest_parts(site, options, arguments.has("chance") ? options.target_probability : kUsualChance);
    if (objective == "sum" && arguments.has("chance"))
      throw Failure(kBadInput,
                    "--objective sum asks for no chance: leave --chance out, or take worst or parts");
    if (objective == "sum") options.target_probability = 0;
    return placement(site, options);
  } catch (const DomainError& fault) {
    throw Failure(kBadInput,
                  fault.what());  // fewer than are fixed, a hub left out that something is enrolled with
  }
}

std::string answer_text(const Arguments& arguments, const std::string& format, const Site& site,
                        const PlacementAnswer& answer) {
  if (format == "csv") return write_csv(placement_rows(site, answer), csv_style(arguments));
  if (format == "json") return placement_json(data_language(arguments), site, answer);
  if (format == "text")
    return write_text(placement_document(language_of(arguments, site.units.length), site, answer),
                      text_style(arguments));
  if (!answer.field)
    throw Failure(kBadInput, "no hub has a choice of places here: there is no picture to be drawn");
  return picture(
      placement_svg(language_of(arguments, site.units.length), site, answer, plan_framing(arguments)),
      format);
}

/// The site with the first choice, where it is asked for; the answer tells what was changed.
std::vector<std::pair<FileOut, std::string>> applied(const Arguments& arguments, const SiteFile& file,
                                                     PlacementAnswer& answer) {
  if (!arguments.value("apply")) return {};
  if (answer.choices.empty())
    throw Failure(kBadInput,
                  "there are no places to be written: " + placement_proof(data_language(arguments), answer));
  const std::vector<Edit> edits = gains_little(answer) ? std::vector<Edit>() : answer.choices.front().edits;
  std::vector<std::string> as_figures;
  auto text = edited_text(file.text, file.name, edits, file.tables, &as_figures);
  if (!text) refuse(text.error(), file.name);
  Warning written{.code = WarningCode::no_changes_written};
  if (!edits.empty()) {
    std::vector<std::string> paths;
    for (const Edit& edit : edits) paths.push_back(edit.path);
    written = {.code = WarningCode::changes_written, .arguments = {{"paths", joined(paths, " ")}}};
  }
  if (!as_figures.empty())
    answer.warnings.insert(answer.warnings.begin(), written_as_figures(std::move(as_figures)));
  answer.warnings.insert(answer.warnings.begin(), written);
  return {{file_beside(arguments, "apply"), std::move(*text)}};
}

ExitStatus run_place(const Arguments& arguments) {
  const std::string format = output_format(arguments, kPictureFormat.words, "text");
  (void)plan_framing(arguments);  // a wrong word is told before any work
  if (arguments.has("brief") && is_picture(format))
    throw Failure(kBadInput, "--brief leaves the picture out: leave --brief out, or take text, csv or json");
  const SiteFile file = read_site_file(arguments);
  require_picture(format);
  const Interruption interruption;
  PlacementAnswer answer = computed(arguments, file.site, options_of(arguments, file.site), interruption);
  const auto beside = applied(arguments, file, answer);
  write_answer(arguments, beside, answer_text(arguments, format, file.site, answer));
  if (answer.status != PlacementStatus::stopped) return kDone;
  say_failure(Failure(kInterrupted, answer.choices.empty() ? "interrupted before there was an answer"
                                                           : "interrupted: this is the best so far"));
  return kInterrupted;
}

}  // namespace

const Command& place_command() {
  static const Command command{
      .name = "place",
      .summary = "finds the best places for hubs and repeaters, and what one more would gain",
      .usage = "place SITE [options]",
      .details =
          "Tries every place where hubs and repeaters can hang: on walls, near a socket, clear of doors and "
          "furniture; and which of them serves which device. Finds the choice whose worst device has the "
          "best chance of reaching the threshold. Says "
          "how sure that is, how exact the place must be, and what one hub or repeater more or less would "
          "change; first of all whether moving is worth it. Devices stay where they are, and no hub gets "
          "more devices than it has slots. Ctrl-C ends "
          "the search and prints the best so far (status 130).",
      .options =
          {kPictureFormat,
           kFrame,
           kOutput,
           kCsvStyle,
           kPrecise,
           with_detail(
               {"hubs", "N", "hubs in all, those of the site first; default: as many as the site has"},
               "N is 1 to 4; fixed ones come before others. Further ones are like the first hub and may go "
               "anywhere."),
           with_detail({"repeaters", "N", "repeaters at most; default: as many as the site has"},
                       "N is 0 to 3. A site without one takes the profile repeater, 2 m up. One that serves "
                       "nothing is left out."),
           {"objective",
            "WHAT",
            "worst (default): the best chance for the worst device, then the highest sum of all chances; "
            "sum: the highest sum; parts: the fewest hubs and repeaters that give every device --chance",
            "",
            {"worst", "sum", "parts"}},
           {"chance", "SHARE",
            "0 to 1: the chance that is enough for the worst device, beyond which the sum decides; with "
            "--objective parts the chance that every device needs, default: 0.9"},
           with_detail(
               {"anywhere", "",
                "hubs and repeaters without may_move may go into every room; else a hub stays in its room, a "
                "repeater where it hangs"},
               "It is for a plan on which nothing hangs yet."),
           {"step", "M", "metres between places along a wall, 0.05 to 10; default: 0.25"},
           {"cases", "FILE", "cases of edits (YAML): finds the choice that is best in the worst case"},
           {"brief", "", "only the best choice: no alternatives, comparisons or picture"},
           with_detail(
               {"apply", "OUT",
                "write the site file with the best choice to OUT; unchanged where moving is not worth it"},
               "That is places, new hubs and repeaters, and the hub of every device that would else be taken "
               "to be with another. Nothing else in it changes; of a hub or repeater that leaves the metal "
               "behind it, the `mount` is taken out."),
           {"doors",
            "STATE",
            "armed or open; default: both, and the worse one counts",
            "",
            {"armed", "open"}},
           kMaterials,
           kLanguage,
           kThreads,
           kHelp},
      .examples = {"linkmargin place site.yaml", "where to put the hub",
                   "linkmargin place site.yaml --hubs 2 --repeaters 1", "two hubs and up to one repeater",
                   "linkmargin place site.yaml --hubs 2 --repeaters 3 --objective parts",
                   "the fewest that give every device a chance of 90 in 100",
                   "linkmargin place site.yaml --anywhere",
                   "before anything hangs: into which room with the hub",
                   "linkmargin place site.yaml --output places.svg", "a picture of good and bad places",
                   "linkmargin place site.yaml --apply placed.yaml", "also a site file with these places"},
      .least_names = 1,
      .most_names = 1,
      .run = run_place};
  return command;
}

}  // namespace linkmargin::cli
