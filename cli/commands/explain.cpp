#include "linkmargin/analysis/relocation/link_answer.hpp"
#include "linkmargin/analysis/survey/reading_verdict.hpp"
#include "linkmargin/prediction/fitted_shadowing.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/explain_report.hpp"
#include "linkmargin/site/limits.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "support/command.hpp"
#include "support/failure.hpp"
#include "support/input.hpp"
#include "support/language.hpp"

#include <algorithm>
#include <iterator>
#include <vector>

namespace linkmargin::cli {
namespace {

/// The link with the named hub, or with the one that serves the device.
const Link& find_link(const LinkTable& table, const std::string& device,
                      const std::optional<std::string>& hub) {
  std::vector<std::string> devices;
  std::vector<std::string> hubs;
  for (const Link& link : table.links) {
    if (link.serving) devices.push_back(link.device);
    if (link.device != device) continue;
    if (hub ? link.heard_by() == *hub : link.serving) return link;
    hubs.push_back(link.heard_by());
  }
  if (hub && !hubs.empty()) unknown_name("hub", *hub, hubs);
  unknown_name("device", device, devices);
}

/// What is said of one link.
struct Explained {
  const LinkTable& table;
  const Link& link;
  const ReadingAnswer* read;
  const Relocation* relocation;
};

std::string answer(const Arguments& arguments, const Site& site, const Explained& what) {
  const auto& [table, link, read, relocation] = what;
  switch (output_format(arguments)) {
    case Format::csv:
      return write_csv(explain_rows(data_language(arguments), link), csv_style(arguments));
    case Format::json:
      return explain_json(data_language(arguments), site, table, link, read, relocation);
    case Format::text:
      break;
  }
  return write_text(
      explain_document(language_of(arguments, site.units.length), site, table, link, read, relocation),
      text_style(arguments));
}

/// What --reading says counts, and no older row of the same device where it hangs.
/// @return which rows that were, for the reader
std::vector<Warning> take_out(const Site& site, const std::string& name, Doors doors,
                              std::vector<Reading>& readings) {
  const auto device = std::ranges::find(site.devices, name, &Device::name);
  std::vector<Warning> taken;
  std::erase_if(readings, [&](const Reading& row) {
    const bool there = !row.place || (device != site.devices.end() && *row.place == device->place);
    const bool then = !row.doors_open || *row.doors_open == (doors == Doors::open);
    const bool same = row.device == name && there && then;
    if (same)
      taken.push_back({.code = WarningCode::reading_replaced,
                       .arguments = {{"line", std::to_string(row.line)}, {"device", Quoted{name}}}});
    return same;
  });
  return taken;
}

/// The spots of the device that were read, the present one first: as --reading has them, else as the rows.
std::vector<TriedSpot> spots_read(const Site& site, const LinkTable& table, const Link& link,
                                  const std::vector<double>& percents, const FadingModel& fading,
                                  const SpotSearchOptions& options) {
  if (!percents.empty()) {
    std::vector<TriedSpot> spots =
        spots_in_order(fading, site.reading, site.radio.frequency_hz, link, percents, options);
    if (spots.size() == percents.size()) return spots;
    const auto device = std::ranges::find(site.devices, link.device, &Device::name);
    if (device != site.devices.end() && site.profiles.at(device->profile).fixed_by_rule && spots.size() == 1)
      throw Failure(kBadInput, "--reading takes one reading of '" + link.device +
                                   "': its position is fixed by its standard");
    throw Failure(kBadInput, "--reading takes " +
                                 (spots.size() == 1 ? "one reading"
                                                    : "up to " + std::to_string(spots.size()) + " readings") +
                                 " of '" + link.device + "': no more of its spots are worth trying");
  }
  return spots_of_rows(site, table, link);
}

ExitStatus run_explain(const Arguments& arguments) {
  LinkTableOptions options{.doors = arguments.doors_open() ? Doors::open : Doors::armed,
                           .all_pairs = true,
                           .threads = arguments.threads()};
  const Format format = output_format(arguments);  // wrong words are told before any work
  const std::vector<double> percents = arguments.percents("reading");
  if (!percents.empty() && format == Format::csv) {
    throw Failure(kBadInput, "--reading goes with text and json; the CSV holds only the losses");
  }
  const Site site = read_site(arguments);
  const std::string device = arguments.name_from(1);
  if (std::ranges::find(site.areas, device, &Area::name) != site.areas.end())
    throw Failure(
        kBadInput,
        "'" + device + "' is an area for remotes: `linkmargin check` and `linkmargin coverage` tell of it");
  SiteReadings given = given_readings(arguments, site);
  std::vector<Warning> taken;
  if (!percents.empty()) taken = take_out(site, device, options.doors, given.readings);
  options.readings = given.readings;
  const Scene scene(site, options.doors, options.threads);
  options.nearby = fitted_shadowing(site, given.readings, options.doors, scene, options.threads);
  const LinkTable table = link_table(site, options, scene);
  Link link = find_link(table, device, arguments.value("hub"));
  std::ranges::move(taken, std::back_inserter(link.loss.warnings));
  std::ranges::move(given_readings_warnings(arguments, given), std::back_inserter(link.loss.warnings));
  LinkAnswer said;
  if (format != Format::csv) {
    const auto tried =
        spots_read(site, table, link, percents, FadingModel(site.fading), centimetre_options(site, link));
    said = link_answer(site, options, link, tried,
                       percents.empty() ? std::nullopt : std::optional(percents.front()));
  }
  write_answer(arguments,
               answer(arguments, site,
                      {table, link, said.read ? &*said.read : nullptr, said.tried ? &*said.tried : nullptr}));
  return kDone;
}

}  // namespace

const Command& explain_command() {
  static const Command command{
      .name = "explain",
      .summary = "explains one device: what costs signal, and what to try",
      .usage = "explain SITE DEVICE [options]",
      .details =
          "Says why a device is weak, doubtful or good: what the distance and each thing in the way cost, "
          "the budget of both directions, the chance, and what to try first. With a reading taken on site it "
          "says whether the spot, the walls or something else is the cause, and how to shift the device.",
      .options =
          {kFormat,
           kOutput,
           kCsvStyle,
           kPrecise,
           kDoors,
           {"hub", "NAME", "the link with this hub instead of the one that serves the device"},
           {"reading", "PERCENT",
            "the reading taken on site, 0 to 100, in the direction that reads lower; says whether a fade, "
            "the walls or something that the plan does not show is the cause. Of several spots one after "
            "the other, the present one first: 28,33,31; says whether to go on. Text and json only"},
           with_detail(
               kReadings,
               "The answer says what they do to this link. A device that was read weak where it hangs "
               "is judged by that reading, and by rows of it at spots within half a wave (x_m, y_m, "
               "height_m). With --reading too, rows of the same device where it hangs, with the doors "
               "as asked, do not count, and are named: what --reading says is compared with what the "
               "others predict."),
           kMaterials,
           kLanguage,
           kThreads,
           kHelp},
      .examples = {"linkmargin explain site.yaml 'hall motion'", "why it reads what it reads",
                   "linkmargin explain site.yaml hall motion --doors open", "the same with doors open",
                   "linkmargin explain site.yaml 'hall motion' --format json", "for a program",
                   "linkmargin explain site.yaml 'hall motion' --reading 28",
                   "28 % was read: shift it or not?",
                   "linkmargin explain site.yaml 'hall motion' --reading 28,33,31",
                   "two more spots were read: go on or stop?"},
      .least_names = 2,
      .most_names = kAnyCount,
      .run = run_explain};
  return command;
}

}  // namespace linkmargin::cli
