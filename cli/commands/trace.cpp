#include "linkmargin/exchange/drawing_unit.hpp"
#include "linkmargin/exchange/dxf/dxf_drawing.hpp"
#include "linkmargin/exchange/geojson/geojson_drawing.hpp"
#include "linkmargin/exchange/tracing/traced_plan.hpp"
#include "linkmargin/report/trace/trace_report.hpp"
#include "linkmargin/text/name_flaw.hpp"
#include "linkmargin/yaml/exchange/layer_map_yaml.hpp"
#include "linkmargin/yaml/exchange/traced_site.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "output/output_place.hpp"
#include "output/schema_line.hpp"
#include "support/command.hpp"
#include "support/input.hpp"
#include "support/language.hpp"

#include <algorithm>
#include <filesystem>
#include <unistd.h>

namespace linkmargin::cli {
namespace {

using exchange::Drawing;

/// GeoJSON begins with a brace, DXF with a number.
bool is_json(const std::string& bytes) {
  const std::size_t first = bytes.find_first_not_of("\xEF\xBB\xBF \t\r\n");
  return first != std::string::npos && bytes[first] == '{';
}

std::vector<Drawing> parsed(const std::string& bytes, const std::string& file) {
  if (is_json(bytes)) {
    auto levels = exchange::parse_geojson(bytes, shown_name(file));
    if (!levels) refuse(levels.error(), file);
    return std::move(*levels);
  }
  auto drawing = exchange::parse_dxf(bytes, shown_name(file));
  if (!drawing) refuse(drawing.error(), file);
  return {std::move(*drawing)};
}

std::vector<std::string> unit_words() {
  std::vector<std::string> words;
  for (const exchange::DrawingUnit& unit : exchange::kDrawingUnits) words.emplace_back(unit.word);
  return words;
}

std::optional<double> unit_m(const Arguments& arguments) {
  if (!arguments.has("unit")) return {};
  const std::string word = arguments.word("unit", unit_words());
  return std::ranges::find(exchange::kDrawingUnits, word, &exchange::DrawingUnit::word)->metres;
}

std::optional<exchange::LayerMap> layers(const Arguments& arguments) {
  const auto file = arguments.value("layers");
  if (!file) return {};
  auto map = parse_layer_map(read_text(*file), shown_name(*file));
  if (!map) refuse(map.error(), *file);
  return std::move(*map);
}

std::vector<Drawing> in_metres(std::vector<Drawing> drawings, std::optional<double> unit,
                               const std::string& file) {
  std::vector<Drawing> scaled;
  for (Drawing& drawing : drawings) {
    auto one = exchange::in_metres(std::move(drawing), unit, shown_name(file));
    if (!one) refuse(one.error(), file);
    scaled.push_back(std::move(*one));
  }
  return scaled;
}

/// What the file is called.
std::string site_name(const std::string& file) {
  const std::string stem = std::filesystem::path(file).stem().string();
  return file != kStandardInput && name_flaw(stem, stem).empty() ? stem : "My site";
}

ExitStatus run_trace(const Arguments& arguments) {
  (void)output_format(arguments, {"yaml"}, "yaml");  // a wrong ending is told before any work
  check_standard_input(arguments);
  const auto unit = unit_m(arguments);
  const auto map = layers(arguments);
  const std::string& file = arguments.names.front();
  std::vector<Drawing> drawings =
      in_metres(parsed(read_text(file, exchange::kMaxDrawingBytes), file), unit, file);
  const auto plan = exchange::traced_plan(std::move(drawings), map, shown_name(file));
  if (!plan) refuse(plan.error(), file);
  const std::string source = std::filesystem::path(shown_name(file)).filename().string();
  const auto site = traced_site(*plan, site_name(file), source, embedded_tables());
  if (!site) refuse(site.error(), file);
  write_answer(arguments, with_schema_line(*site));
  const bool to_file = arguments.value("output").value_or(kStandardOutput) != kStandardOutput;
  const std::string report = write_text(trace_document(language_of(arguments), *plan, source));
  if (to_file) {
    write_standard_output(report);
  } else {
    (void)write_all(STDERR_FILENO, report);
  }
  return kDone;
}

}  // namespace

const Command& trace_command() {
  static const Command command{
      .name = "trace",
      .summary = "traces a site file from a plan that exists: DXF in text form, or GeoJSON",
      .usage = "trace PLAN [options]",
      .details =
          "Reads walls, doors, windows and names of rooms by layer and writes a site file: rooms to the "
          "middle "
          "of their walls, openings, the thickness of walls drawn as double lines. Then says what to check "
          "and what of the drawing was left out. Materials, heights and the place of the hub are "
          "assumptions.",
      .options = {kOutput,
                  {"layers", "FILE",
                   "says which layers are walls, doors, windows, rooms and names; default: by their names"},
                  {"unit", "UNIT", "mm, cm, dm, m, in or ft: of the drawing; default: what the drawing says",
                   "", unit_words()},
                  kLanguage,
                  kHelp},
      .examples = {"linkmargin trace plan.dxf --output site.yaml", "a drawing that says its unit",
                   "linkmargin trace plan.dxf --unit mm --layers layers.yaml -o site.yaml",
                   "its unit and its layers said", "linkmargin draw site.yaml --output site.svg",
                   "to compare it with the drawing"},
      .least_names = 1,
      .most_names = 1,
      .run = run_trace};
  return command;
}

}  // namespace linkmargin::cli
