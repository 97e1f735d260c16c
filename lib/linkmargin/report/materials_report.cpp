#include "linkmargin/report/materials_report.hpp"

#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/report/material_facts.hpp"
#include "linkmargin/report/material_groups.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/report/document/rounding.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

std::string mhz_text(double frequency_hz) {
  return shortest_text(mhz_from_hz(frequency_hz));
}

std::string frequencies_text(const MaterialFacts& facts) {
  if (!facts.min_frequency_hz) return facts.kind == "layers" ? "layers" : "any";
  const std::string min = mhz_text(*facts.min_frequency_hz);
  const std::string max = mhz_text(*facts.max_frequency_hz);
  return min == max ? min : min + ".." + max;
}

std::string thickness_text(const MaterialFacts& facts) {
  return facts.thickness_m ? shortest_text(rounded_for_programs(*facts.thickness_m)) : std::string();
}

/// A loss over this means "nothing passes": more digits would pretend to a precision that leaks deny.
constexpr double kOpaqueDb = 150;

Cell loss_cell(double loss_db) {
  return loss_db > kOpaqueDb ? Cell{">" + shortest_text(kOpaqueDb)} : Cell{loss_db};
}

std::string loss_text(double loss_db, int decimals = 2) {
  return loss_db > kOpaqueDb ? "more than " + with_unit(kOpaqueDb, 0, "dB")
                             : with_unit(loss_db, decimals, "dB");
}

Paragraph list_title(const MaterialsOptions& options) {
  return {"Loss straight through at " + mhz_text(options.frequency_hz) + " MHz, " +
              shortest_text(options.thickness_m) +
              " m thick where the electrical properties are known. *: figures stated for other frequencies. "
              "`linkmargin materials NAME` tells thickness, frequencies and source in full.",
          Tone::plain};
}

void add_properties(std::vector<Block>& blocks, const Material& material) {
  if (const auto* measured = std::get_if<MeasuredLoss>(&material.kind)) {
    if (measured->points.front().frequency_hz <= 0) return;
    Table points{
        {{.title = "Stated at", .unit = "MHz", .right_aligned = true}, number_column("Loss", "dB", 2)}, {}};
    for (const LossPoint& point : measured->points) {
      points.rows.push_back({{{mhz_text(point.frequency_hz)}, {point.loss_db}}});
    }
    blocks.emplace_back(std::move(points));
  } else if (const auto* electrical = std::get_if<ElectricalProperties>(&material.kind)) {
    blocks.emplace_back(Paragraph{"Permittivity " + shortest_text(electrical->a) + " f^" +
                                  shortest_text(electrical->b) + ", conductivity " +
                                  shortest_text(electrical->c) + " f^" + shortest_text(electrical->d) +
                                  " S/m, f in GHz."});
  } else {
    Table layers{{{.title = "Layer, face to face"}, number_column("Thickness", "m", 4)}, {}};
    for (const Layer& layer : std::get<BuildUp>(material.kind).layers) {
      layers.rows.push_back({{{layer.material}, {layer.thickness_m}}});
    }
    blocks.emplace_back(std::move(layers));
  }
}

void add_angles(std::vector<Block>& blocks, const MaterialTable& table, const MaterialFacts& facts,
                const MaterialsOptions& options) {
  if (!facts.angled) return;
  Table angles{{number_column("Angle from the perpendicular", "deg", 0), number_column("Loss", "dB", 2)}, {}};
  for (const double angle : {0.0, 15.0, 30.0, 45.0, 60.0, 75.0}) {
    angles.rows.push_back({{{angle}, loss_cell(loss_at_angle_db(table, facts, options, angle))}});
  }
  blocks.emplace_back(std::move(angles));
}

std::string summary(const MaterialFacts& facts, const MaterialsOptions& options) {
  std::string text = facts.kind == "measured"     ? "Measured through the whole thing"
                     : facts.kind == "electrical" ? "Known by its electrical properties"
                                                  : "A build-up of layers";
  if (facts.thickness_m) text += ", here " + thickness_text(facts) + " m thick";
  text += ": " + loss_text(facts.loss_db) + " straight through at " + mhz_text(options.frequency_hz) +
          " MHz, spread " + with_unit(facts.material->sigma_db, 1, "dB") + ".";
  if (facts.leakage_db) {
    text += " What leaks round its edges, at " + with_unit(*facts.leakage_db, 0, "dB") + ", is in it.";
  }
  text += " Its face throws back " + with_unit(facts.reflects_percent, 0, "%") +
          " of the power that reaches it from all sides.";
  text += " Stated for: ";
  return text + (facts.min_frequency_hz
                     ? frequencies_text(facts) + " MHz."
                     : (facts.kind == "layers" ? "what its layers are." : "any frequency."));
}

/// The rows of one group, what loses least first.
Table group_rows(const std::vector<MaterialFacts>& all, const std::string& group) {
  std::vector<const MaterialFacts*> found;
  for (const MaterialFacts& facts : all) {
    if (facts.material->group == group) found.push_back(&facts);
  }
  std::ranges::stable_sort(found, {}, &MaterialFacts::loss_db);
  Table rows{{{.title = "Material"},
              number_column("Loss", "dB", 1),
              {.key = "outside"},
              number_column("Spread", "dB", 1),
              {.title = "Source", .shrinks = true}},
             {}};
  for (const MaterialFacts* facts : found) {
    const Material& material = *facts->material;
    rows.rows.push_back({{{material.name},
                          loss_cell(facts->loss_db),
                          {facts->out_of_range.empty() ? " " : "*"},
                          {material.sigma_db},
                          {material.source}}});
  }
  return rows;
}

/// "lined brick wall 2.6 dB, cavity wall 4.8 dB": the others of a row's group.
std::string neighbours_text(const MaterialTable& table, const Material& material,
                            const MaterialsOptions& options) {
  std::vector<MaterialFacts> others = chosen_materials(table, options, {});
  std::erase_if(others, [&](const MaterialFacts& facts) {
    return facts.material->group != material.group || facts.material == &material;
  });
  std::ranges::stable_sort(others, {}, &MaterialFacts::loss_db);
  std::string text;
  for (const MaterialFacts& facts : others)
    text += (text.empty() ? "" : ", ") + facts.material->name + " " + loss_text(facts.loss_db, 1);
  return text;
}

}  // namespace

Document materials_document([[maybe_unused]] const Language& language, const MaterialTable& table, const MaterialsOptions& options) {
  const std::vector<MaterialFacts> all = chosen_materials(table, options, {});
  Document document;
  document.blocks.emplace_back(list_title(options));
  std::vector<std::string> groups = kMaterialGroups;
  groups.emplace_back();
  for (const std::string& group : groups) {
    Table rows = group_rows(all, group);
    if (rows.rows.empty()) continue;
    const MaterialGroupWords* words = material_group_words(group);
    document.blocks.emplace_back(Heading{words != nullptr ? group : "In no group, and layers for build-ups"});
    if (words != nullptr) {
      document.blocks.emplace_back(Paragraph{"Pick " + std::string(words->pick)});
      document.blocks.emplace_back(Paragraph{"Spread: " + std::string(words->spread), Tone::faint});
    }
    document.blocks.emplace_back(std::move(rows));
  }
  return document;
}

Document material_document([[maybe_unused]] const Language& language, const MaterialTable& table, const std::string& name,
                           const MaterialsOptions& options) {
  const MaterialFacts facts = chosen_materials(table, options, name).front();
  const Material& material = *facts.material;
  Document document;
  auto& blocks = document.blocks;
  blocks.emplace_back(Paragraph{material.name, Tone::strong});
  blocks.emplace_back(Paragraph{summary(facts, options)});
  add_properties(blocks, material);
  add_angles(blocks, table, facts, options);
  const auto add = [&](const char* title, const std::string& text) {
    if (!text.empty()) blocks.emplace_back(Paragraph{std::string(title) + ": " + text});
  };
  if (const MaterialGroupWords* words = material_group_words(material.group)) {
    add("Group", material.group);
    add("Pick", std::string(words->pick));
    add("Spread", std::string(words->spread));
    add("Others of the group", neighbours_text(table, material, options));
  }
  add("Use", joined(material.use));
  add("Source", material.source);
  add("Verified", material.verified);
  add("Note", material.note);
  for (const std::string& stated : facts.out_of_range)
    add("Used outside the frequencies it is stated for", stated);
  return document;
}

}  // namespace linkmargin
