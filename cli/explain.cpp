#include "linkmargin/analysis/link_table.hpp"
#include "linkmargin/report/explain_report.hpp"
#include "linkmargin/report/write_csv.hpp"

#include "command.hpp"
#include "input.hpp"
#include "output.hpp"

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
    if (hub ? link.hub == *hub : link.serving) return link;
    hubs.push_back(link.hub);
  }
  if (hub && !hubs.empty()) unknown_name("hub", *hub, hubs);
  unknown_name("device", device, devices);
}

std::string answer(const Arguments& arguments, const Site& site, const LinkTable& table, const Link& link) {
  switch (arguments.format()) {
    case Format::csv:
      return write_csv(explain_rows(link));
    case Format::json:
      return explain_json(site, table, link);
    case Format::text:
      break;
  }
  return write_text(explain_document(site, table, link), text_style(arguments));
}

ExitStatus run(const Arguments& arguments) {
  const LinkTableOptions options{.doors = arguments.doors_open() ? Doors::open : Doors::armed,
                                 .all_pairs = true,
                                 .threads = arguments.threads()};
  (void)arguments.format();  // a wrong word is told before any work
  const Site site = read_site(arguments);
  const LinkTable table = link_table(site, options);
  const Link& link = find_link(table, arguments.name_from(1), arguments.value("hub"));
  write_answer(arguments, answer(arguments, site, table, link));
  return kDone;
}

}  // namespace

const Command& explain_command() {
  static const Command command{
      .name = "explain",
      .summary = "one link, cause by cause, in dB and in words",
      .usage = "explain SITE DEVICE [options]",
      .details =
          "Tells why a device is weak or fine: what the distance and each thing in the way cost, the budget "
          "of "
          "both directions, the chance in words, and what would help first.",
      .options = {kFormat,
                  kOutput,
                  kDoors,
                  {"hub", "NAME", "the link with this hub instead of the one that serves the device"},
                  kMaterials,
                  kThreads,
                  kHelp},
      .examples = {"linkmargin explain site.yaml 'hall motion'", "why it reads what it reads",
                   "linkmargin explain site.yaml hall motion --doors open", "the same with doors open",
                   "linkmargin explain site.yaml 'hall motion' --format json", "for a program"},
      .least_names = 2,
      .most_names = kAnyCount,
      .run = run};
  return command;
}

}  // namespace linkmargin::cli
