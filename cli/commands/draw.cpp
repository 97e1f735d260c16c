#include "linkmargin/base/joined.hpp"
#include "linkmargin/exchange/writer/plan_dxf.hpp"
#include "linkmargin/exchange/writer/plan_geojson.hpp"
#include "linkmargin/report/plan/fault_plan.hpp"
#include "linkmargin/report/plan/floor_plan.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/writer/long_form.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "output/output_place.hpp"
#include "output/picture.hpp"
#include "output/schema_line.hpp"
#include "output/watched_plan.hpp"
#include "support/command.hpp"
#include "support/input.hpp"
#include "support/language.hpp"
#include "support/plan_under.hpp"

#include <filesystem>

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

/// The site file itself, every place as coordinates.
ExitStatus write_long_form(const Arguments& arguments) {
  for (const char* option : {"storey", "frame", "under", "scale", "origin"}) {
    if (arguments.has(option))
      throw Failure(kBadInput, std::string("--") + option + " is for a drawing: leave it out with yaml");
  }
  const SiteFile file = read_site_file(arguments);
  const auto text = long_form(file.text, file.name, file.tables);
  if (!text) refuse(text.error(), file.name);
  write_answer(arguments, with_schema_line(*text));
  return kDone;
}

[[noreturn]] void of_one_storey(const std::string& what, const Site& site) {
  std::vector<std::string> names;
  for (const Storey& one : site.storeys) names.push_back(one.name);
  throw Failure(kBadInput, what + ": say --storey NAME (" + joined(names) + ")");
}

/// The plan for other programs. A drawing in DXF is of one storey.
ExitStatus write_plan(const Arguments& arguments, const std::string& format, const Site& site,
                      const std::optional<std::size_t>& storey) {
  if (format == "geojson") {
    write_answer(arguments, exchange::plan_geojson(site, storey));
    return kDone;
  }
  if (!storey && site.storeys.size() > 1) of_one_storey("a drawing in DXF is of one storey", site);
  write_answer(arguments, exchange::plan_dxf(site, storey.value_or(0)));
  return kDone;
}

/// The sheet of a site, or of the faults of its file.
std::string sheet(const Arguments& arguments, const Site& site, const std::optional<PlanPicture>& under) {
  FloorPlanOptions options{.storey = find_storey(site, arguments.value("storey")),
                           .shown = plan_framing(arguments),
                           .under = under};
  if (options.under && !options.storey) {
    if (site.storeys.size() > 1) of_one_storey("a picture lies under one storey", site);
    options.storey = 0;
  }
  return floor_plan_svg(language_of(arguments, site.units.length), site, options);
}

/// The page of --page, which shows the drawing beside it. @throws Failure as a file that is written does
void write_page(const Arguments& arguments, const std::string& file) {
  const FileOut page = file_beside(arguments, "page");
  const std::filesystem::path folder = std::filesystem::absolute(page.file).parent_path();
  const std::string picture =
      std::filesystem::absolute(*arguments.value("output")).lexically_proximate(folder).string();
  FilesTogether files;
  files.add(page, reload_page(language_of(arguments), file, picture));
  files.write();
}

/// Draws at each save, until the program is ended.
ExitStatus draw_at_each_save(const Arguments& arguments, const std::string& format) {
  const std::string& file = arguments.names.front();
  const std::string output = arguments.value("output").value_or(kStandardOutput);
  if (file == kStandardInput || goes_to_stream(output))
    throw Failure(kBadInput,
                  "--watch needs a file that is watched, and one that is written: --output plan.svg");
  const auto under = plan_under(arguments);
  const Tables tables = read_tables(arguments);
  require_picture(format);
  if (arguments.has("page")) write_page(arguments, file);
  watch(file, [&](const std::string& text) {
    const SiteAttempt attempt = attempt_site(text, file, tables);
    const std::string drawn = attempt.faults.empty()
                                  ? sheet(arguments, attempt.site, under)
                                  : fault_plan_svg(language_of(arguments, attempt.site.units.length), file,
                                                   attempt.faults, attempt.site);
    write_answer(arguments, picture(drawn, format));
  });
}

ExitStatus run_draw(const Arguments& arguments) {
  const std::string format = output_format(arguments, {"svg", "png", "pdf", "yaml", "dxf", "geojson"}, "svg");
  for (const char* option : {"watch", "page"}) {
    if (arguments.has(option) && !is_picture(format))
      throw Failure(kBadInput, std::string("--") + option + " goes with a picture: svg, png or pdf");
  }
  if (format == "yaml") return write_long_form(arguments);
  if (arguments.has("watch")) return draw_at_each_save(arguments, format);
  if (arguments.has("page")) throw Failure(kBadInput, "--page goes with --watch");
  const Site site = read_site(arguments);
  require_picture(format);
  const auto under = plan_under(arguments);
  if (under && !is_picture(format)) throw Failure(kBadInput, "--under goes with a picture: svg, png or pdf");
  if (!is_picture(format))
    return write_plan(arguments, format, site, find_storey(site, arguments.value("storey")));
  write_answer(arguments, picture(sheet(arguments, site, under), format));
  return kDone;
}

}  // namespace

const Command& draw_command() {
  static const Command command{
      .name = "draw",
      .summary =
          "draws the plan of a site file, to see typing errors at once (SVG, PNG, PDF), or writes it with "
          "coordinates (YAML) or for other programs (DXF, GeoJSON)",
      .usage = "draw SITE [options]",
      .details =
          "Draws what the site file says, with rulers in metres: rooms, walls, openings, obstacles, hubs, "
          "repeaters, devices and areas of every storey. Open the result in any browser; point at a thing to "
          "see its details. As yaml it writes the site file once more, every place as coordinates.",
      .options = {{"format",
                   "FORMAT",
                   "svg, png, pdf, yaml, dxf or geojson; default: by the ending of --output, else svg",
                   "",
                   {"svg", "png", "pdf", "yaml", "dxf", "geojson"}},
                  with_detail({"storey", "NAME", "only this storey"},
                              "It is not for yaml; dxf and --under need it where the site has several."),
                  kFrame,
                  with_detail({"under", "PICTURE",
                               "a PNG or JPEG of the plan that lies under the drawing; with --scale"},
                              "It may have up to 16 MiB."),
                  with_detail(
                      {"scale", "LENGTH:X1,Y1,X2,Y2",
                       "how long a line of the picture is, its ends in pixels from the top left corner"},
                      "The length has its unit with it: 2.35m, 92in."),
                  with_detail({"origin", "X,Y",
                               "where in the picture the plan's zero is; default: the first end of --scale"},
                              "X and Y are in pixels."),
                  with_detail({"watch", "",
                               "draws again whenever the site file is saved, its faults too, until Ctrl-C"},
                              "It needs --output."),
                  with_detail({"page", "FILE",
                               "with --watch: writes a local page that shows the drawing as it is now"},
                              "The page is written once."),
                  kOutput,
                  kMaterials,
                  kLanguage,
                  kHelp},
      .examples = {"linkmargin draw site.yaml --output site.svg", "all storeys on one sheet",
                   "linkmargin draw site.yaml --storey ground --output ground.svg", "one storey",
                   "linkmargin draw site.yaml --output site.pdf", "to print, or for a document (.png too)",
                   "linkmargin draw site.yaml --watch -o site.svg --page site.html",
                   "while you type: open site.html in a browser",
                   "linkmargin draw site.yaml --under plan.png --scale 2m:9,80,51,80",
                   "over a picture of the plan, to see slips", "linkmargin draw site.yaml --output long.yaml",
                   "the site file with every place as coordinates"},
      .least_names = 1,
      .most_names = 1,
      .run = run_draw};
  return command;
}

}  // namespace linkmargin::cli
