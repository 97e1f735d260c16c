#include "linkmargin/base/joined.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/report/json/json_values.hpp"
#include "linkmargin/report/material_facts.hpp"
#include "linkmargin/report/materials_report.hpp"
#include "linkmargin/report/words/codes/warning_words.hpp"
namespace linkmargin {
namespace {

Cell cell(std::optional<double> value) {
  return value ? Cell{*value} : Cell{};
}

std::optional<double> mhz(std::optional<double> frequency_hz) {
  return frequency_hz ? std::optional<double>(mhz_from_hz(*frequency_hz)) : std::nullopt;
}

json::Value value(std::optional<double> number) {
  return number ? json::number(*number) : json::Value(nullptr);
}

void add_kind(json::Value& object, const Material& material) {
  if (const auto* measured = std::get_if<MeasuredLoss>(&material.kind)) {
    json::Value points = json::Value::array();
    for (const LossPoint& point : measured->points) {
      const bool stated = point.frequency_hz > 0;
      points.push_back({{"frequency_mhz", value(stated ? mhz(point.frequency_hz) : std::nullopt)},
                        {"loss_db", json::number(point.loss_db)}});
    }
    object["losses"] = std::move(points);
  } else if (const auto* electrical = std::get_if<ElectricalProperties>(&material.kind)) {
    object["electrical"] = {{"a", json::number(electrical->a)},
                            {"b", json::number(electrical->b)},
                            {"c", json::number(electrical->c)},
                            {"d", json::number(electrical->d)}};
  } else {
    json::Value layers = json::Value::array();
    for (const Layer& layer : std::get<BuildUp>(material.kind).layers) {
      layers.push_back({{"of", layer.material}, {"thickness_m", json::number(layer.thickness_m)}});
    }
    object["layers"] = std::move(layers);
  }
}

}  // namespace

Table materials_rows(const MaterialTable& table, const MaterialsOptions& options, const std::string& name) {
  Table rows;
  for (const char* key : {"material", "kind", "frequency_mhz", "thickness_m", "loss_db", "sigma_db",
                          "leakage_db", "reflects_percent", "min_frequency_mhz", "max_frequency_mhz", "use",
                          "source", "verified", "note", "group"}) {
    rows.columns.push_back({.key = key});
  }
  for (const MaterialFacts& facts : chosen_materials(table, options, name)) {
    const Material& material = *facts.material;
    rows.rows.push_back({{{material.name},
                          {facts.kind},
                          {mhz_from_hz(options.frequency_hz)},
                          cell(facts.thickness_m),
                          {facts.loss_db},
                          {material.sigma_db},
                          cell(facts.leakage_db),
                          {facts.reflects_percent},
                          cell(mhz(facts.min_frequency_hz)),
                          cell(mhz(facts.max_frequency_hz)),
                          {joined(material.use, " ")},
                          {material.source},
                          {material.verified},
                          {material.note},
                          {material.group}}});
  }
  return rows;
}

std::string materials_json(const Language& language, const MaterialTable& table,
                           const MaterialsOptions& options, const std::string& name) {
  json::Value list = json::Value::array();
  for (const MaterialFacts& facts : chosen_materials(table, options, name)) {
    const Material& material = *facts.material;
    json::Value object{{"material", material.name},
                       {"kind", facts.kind},
                       {"thickness_m", value(facts.thickness_m)},
                       {"loss_db", json::number(facts.loss_db)},
                       {"sigma_db", json::number(material.sigma_db)},
                       {"leakage_db", value(facts.leakage_db)},
                       {"reflects_percent", json::number(facts.reflects_percent)},
                       {"min_frequency_mhz", value(mhz(facts.min_frequency_hz))},
                       {"max_frequency_mhz", value(mhz(facts.max_frequency_hz))}};
    add_kind(object, material);
    object["use"] = material.use;
    object["source"] = material.source;
    object["verified"] = material.verified;
    object["note"] = material.note;
    object["group"] = material.group;
    object["out_of_range"] = stated_texts(language, facts.out_of_range);
    list.push_back(std::move(object));
  }
  return json::text(
      {{"frequency_mhz", json::number(mhz_from_hz(options.frequency_hz))}, {"materials", std::move(list)}});
}

}  // namespace linkmargin
