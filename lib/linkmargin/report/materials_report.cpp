#include "linkmargin/report/materials_report.hpp"

#include "linkmargin/base/units.hpp"
#include "linkmargin/report/material_facts.hpp"
#include "linkmargin/report/words/codes/warning_words.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

/// In millimetres to a tenth, as sheets, boards and walls are sold.
double millimetres(double length_m) {
  return std::round(10'000 * length_m) / 10;
}

std::string thickness_text(const Wording& wording, double thickness_m) {
  return wording.with_unit(millimetres(thickness_m), "mm");
}

std::string mhz_text(const Wording& wording, double frequency_hz) {
  return wording.number(mhz_from_hz(frequency_hz));
}

/// A loss over this means "nothing passes": more digits would pretend to a precision that leaks deny.
constexpr double kOpaqueDb = 150;

std::string loss_figure(const Wording& wording, double loss_db, int decimals) {
  return loss_db > kOpaqueDb ? ">" + wording.number(kOpaqueDb) : wording.number(loss_db, decimals);
}

std::string loss_text(const Wording& wording, double loss_db, int decimals) {
  if (loss_db <= kOpaqueDb) return wording.with_unit(loss_db, decimals, "dB");
  return wording.say("materials.opaque", {{"loss", wording.with_unit(kOpaqueDb, 0, "dB")}});
}

Column decibel_column(const Wording& wording, const char* key) {
  return {.title = wording.say(key), .unit = "dB", .right_aligned = true};
}

/// A material as the language names it, with what a site file names it where that is another.
std::string named(const Wording& wording, const std::string& name) {
  const std::string own = wording.language().material(name);
  if (own == name) return wording.name(name);
  return wording.say("materials.named", {{"own", own}, {"name", wording.name(name)}});
}

/// What the catalogue says of a group; nothing for one that is none.
std::string group_text(const Wording& wording, const std::string& group, const char* key) {
  if (std::ranges::find(kMaterialGroups, group) == kMaterialGroups.end()) return {};
  std::string code = group;
  std::ranges::replace(code, ' ', '_');
  return wording.say("materials.group." + code + "." + key);
}

Paragraph list_title(const Wording& wording, const MaterialsOptions& options) {
  return {wording.say("materials.list", {{"mhz", mhz_text(wording, options.frequency_hz)},
                                         {"thickness", thickness_text(wording, options.thickness_m)}})};
}

void add_properties(std::vector<Block>& blocks, const Wording& wording, const Material& material) {
  if (const auto* measured = std::get_if<MeasuredLoss>(&material.kind)) {
    if (measured->points.front().frequency_hz <= 0) return;
    Table points{{{.title = wording.say("materials.stated_at"), .unit = "MHz", .right_aligned = true},
                  decibel_column(wording, "materials.loss")},
                 {}};
    for (const LossPoint& point : measured->points)
      points.rows.push_back({{{mhz_text(wording, point.frequency_hz)}, {wording.number(point.loss_db, 2)}}});
    blocks.emplace_back(std::move(points));
  } else if (const auto* electrical = std::get_if<ElectricalProperties>(&material.kind)) {
    blocks.emplace_back(
        Paragraph{wording.say("materials.properties", {{"a", wording.number(electrical->a)},
                                                       {"b", wording.number(electrical->b)},
                                                       {"c", wording.number(electrical->c)},
                                                       {"d", wording.number(electrical->d)}})});
  } else {
    Table layers{{{.title = wording.say("materials.layer")},
                  {.title = wording.say("materials.thickness"), .unit = "mm", .right_aligned = true}},
                 {}};
    for (const Layer& layer : std::get<BuildUp>(material.kind).layers)
      layers.rows.push_back(
          {{{named(wording, layer.material)}, {wording.number(millimetres(layer.thickness_m))}}});
    blocks.emplace_back(std::move(layers));
  }
}

void add_angles(std::vector<Block>& blocks, const Wording& wording, const MaterialTable& table,
                const MaterialFacts& facts, const MaterialsOptions& options) {
  if (!facts.angled) return;
  Table angles{{number_column(wording.say("materials.angle"), wording.say("materials.degrees"), 0),
                decibel_column(wording, "materials.loss")},
               {}};
  for (const double angle : {0.0, 15.0, 30.0, 45.0, 60.0, 75.0}) {
    angles.rows.push_back(
        {{{angle}, {loss_figure(wording, loss_at_angle_db(table, facts, options, angle), 2)}}});
  }
  blocks.emplace_back(std::move(angles));
}

std::string frequencies_text(const Wording& wording, const MaterialFacts& facts) {
  if (!facts.min_frequency_hz)
    return wording.say(facts.kind == "layers" ? "materials.layers_frequency" : "materials.any_frequency");
  const std::string low = mhz_text(wording, *facts.min_frequency_hz);
  const std::string high = mhz_text(wording, *facts.max_frequency_hz);
  return wording.say(
      "materials.stated_for",
      {{"range", low == high ? low : wording.say("materials.range", {{"low", low}, {"high", high}})}});
}

std::string summary(const Wording& wording, const MaterialFacts& facts, const MaterialsOptions& options) {
  std::string text = wording.say(
      "materials." + facts.kind,
      {{"thickness", facts.thickness_m ? thickness_text(wording, *facts.thickness_m) : std::string()},
       {"loss", loss_text(wording, facts.loss_db, 2)},
       {"mhz", mhz_text(wording, options.frequency_hz)},
       {"spread", wording.decibels(facts.material->sigma_db)}});
  if (facts.leakage_db)
    text += " " + wording.say("materials.leakage", {{"loss", wording.with_unit(*facts.leakage_db, 0, "dB")}});
  text += " " + wording.say("materials.reflects", {{"percent", wording.number(facts.reflects_percent, 0)}});
  return text + " " + frequencies_text(wording, facts);
}

/// The rows of one group, what loses least first; where the language has names of its own, beside what a site
/// file names them.
Table group_rows(const Wording& wording, const std::vector<MaterialFacts>& all, const std::string& group) {
  std::vector<const MaterialFacts*> found;
  for (const MaterialFacts& facts : all) {
    if (facts.material->group == group) found.push_back(&facts);
  }
  std::ranges::stable_sort(found, {}, &MaterialFacts::loss_db);
  const bool own_names = !wording.language().words().materials.empty();
  Table rows;
  if (own_names) rows.columns.push_back({.title = wording.say("materials.material")});
  rows.columns.push_back({.title = wording.say(own_names ? "materials.file_name" : "materials.material")});
  rows.columns.push_back(decibel_column(wording, "materials.loss"));
  rows.columns.push_back({.key = "outside"});
  rows.columns.push_back(decibel_column(wording, "materials.spread"));
  rows.columns.push_back({.title = wording.say("materials.source"), .shrinks = true});
  for (const MaterialFacts* facts : found) {
    const Material& material = *facts->material;
    Row row;
    if (own_names) row.cells.push_back({wording.language().material(material.name)});
    row.cells.push_back({material.name});
    row.cells.push_back({loss_figure(wording, facts->loss_db, 1)});
    row.cells.push_back({facts->out_of_range.empty() ? " " : "*"});
    row.cells.push_back({wording.number(material.sigma_db, 1)});
    row.cells.push_back({material.source});
    rows.rows.push_back(std::move(row));
  }
  return rows;
}

/// "lined brick wall 2.6 dB, cavity wall 4.8 dB": the others of a row's group.
std::string neighbours_text(const Wording& wording, const MaterialTable& table, const Material& material,
                            const MaterialsOptions& options) {
  std::vector<MaterialFacts> others = chosen_materials(table, options, {});
  std::erase_if(others, [&](const MaterialFacts& facts) {
    return facts.material->group != material.group || facts.material == &material;
  });
  std::ranges::stable_sort(others, {}, &MaterialFacts::loss_db);
  std::string text;
  for (const MaterialFacts& facts : others) {
    text += (text.empty() ? "" : ", ") +
            wording.say("materials.another", {{"material", named(wording, facts.material->name)},
                                              {"loss", loss_text(wording, facts.loss_db, 1)}});
  }
  return text;
}

std::string use_text(const Wording& wording, const Material& material) {
  std::string text;
  for (const std::string& use : material.use)
    text += (text.empty() ? "" : ", ") + wording.say("materials.use." + use);
  return text;
}

}  // namespace

Document materials_document(const Language& language, const MaterialTable& table,
                            const MaterialsOptions& options) {
  const Wording wording(language);
  const std::vector<MaterialFacts> all = chosen_materials(table, options, {});
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(list_title(wording, options));
  std::vector<std::string> groups = kMaterialGroups;
  groups.emplace_back();
  for (const std::string& group : groups) {
    Table rows = group_rows(wording, all, group);
    if (rows.rows.empty()) continue;
    if (group.empty()) {
      blocks.emplace_back(Heading{wording.say("materials.no_group")});
    } else {
      blocks.emplace_back(Heading{group_text(wording, group, "name")});
      blocks.emplace_back(
          Paragraph{wording.say("materials.pick", {{"text", group_text(wording, group, "pick")}})});
      blocks.emplace_back(Paragraph{
          wording.say("materials.differ", {{"text", group_text(wording, group, "differ")}}), Tone::faint});
    }
    blocks.emplace_back(std::move(rows));
  }
  return document;
}

Document material_document(const Language& language, const MaterialTable& table, const std::string& name,
                           const MaterialsOptions& options) {
  const Wording wording(language);
  const MaterialFacts facts = chosen_materials(table, options, name).front();
  const Material& material = *facts.material;
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Paragraph{named(wording, material.name), Tone::strong});
  blocks.emplace_back(Paragraph{summary(wording, facts, options)});
  add_properties(blocks, wording, material);
  add_angles(blocks, wording, table, facts, options);
  const auto add = [&](const char* key, const std::string& text) {
    if (!text.empty())
      blocks.emplace_back(Paragraph{wording.say(std::string("materials.") + key, {{"text", text}})});
  };
  add("group_is", group_text(wording, material.group, "name"));
  add("pick", group_text(wording, material.group, "pick"));
  add("differ", group_text(wording, material.group, "differ"));
  if (!material.group.empty()) add("others", neighbours_text(wording, table, material, options));
  add("use_is", use_text(wording, material));
  add("source_is", material.source);
  add("checked", material.verified);
  add("note", material.note);
  for (const StatedBand& stated : facts.out_of_range) add("outside", stated_text(language, stated));
  return document;
}

}  // namespace linkmargin
