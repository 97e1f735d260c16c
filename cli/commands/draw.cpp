#include "linkmargin/report/plan/floor_plan.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "output/picture.hpp"
#include "support/command.hpp"
#include "support/input.hpp"
#include "support/language.hpp"

namespace linkmargin::cli {
namespace {

std::optional<std::size_t> find_storey(const Site& site, const std::optional<std::string>& name) {
  if (!name) return {};
  std::vector<std::string> known;
  for (std::size_t i = 0; i < site.storeys.size(); ++i) {
    if (site.storeys[i].name == *name) return i;
    known.push_back(site.storeys[i].name);
  }
  unknown_name("storey", *name, known);
}

ExitStatus run(const Arguments& arguments) {
  const std::string format = output_format(arguments, {"svg", "png", "pdf"}, "svg");
  const Site site = read_site(arguments);
  const FloorPlanOptions options{.storey = find_storey(site, arguments.value("storey"))};
  write_answer(arguments, picture(floor_plan_svg(language_of(arguments), site, options), format));
  return kDone;
}

}  // namespace

const Command& draw_command() {
  static const Command command{
      .name = "draw",
      .summary = "draws the plan of a site file, to see typing errors at once (SVG, PNG, PDF)",
      .usage = "draw SITE [options]",
      .details =
          "Draws what the site file says, with rulers in metres: rooms, walls, openings, obstacles, hubs, "
          "repeaters, devices and areas of every storey. Open the result in any browser; point at a thing to "
          "see its details.",
      .options = {{"format", "FORMAT", "svg, png or pdf; default: by the ending of --output, else svg"},
                  {"storey", "NAME", "only this storey"},
                  kOutput,
                  kMaterials,
                  kLanguage,
                  kHelp},
      .examples = {"linkmargin draw site.yaml --output site.svg", "all storeys on one sheet",
                   "linkmargin draw site.yaml --storey ground --output ground.svg", "one storey",
                   "linkmargin draw site.yaml --output site.pdf", "to print, or for a document (.png too)"},
      .least_names = 1,
      .most_names = 1,
      .run = run};
  return command;
}

}  // namespace linkmargin::cli
