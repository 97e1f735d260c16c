#include "linkmargin/yaml/site/materials_yaml.hpp"

#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/units.hpp"
#include "linkmargin/site/limits.hpp"
#include "linkmargin/site/trade_words.hpp"
#include "linkmargin/site/validation/electrical_flaw.hpp"
#include "linkmargin/yaml/fields/field_reader.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

namespace linkmargin::yaml {
namespace {

/// How far what passes and what is thrown back may exceed all the power: losses are rounded.
constexpr double kBalanceSlackPercent = 1;

MeasuredLoss read_losses(const Cursor& list, Faults& faults) {
  MeasuredLoss loss;
  for_each_item(list, limits::kLossPoints, faults, [&](const Cursor& item) {
    ObjectReader reader(item, "this loss", faults);
    LossPoint point;
    read_fields(reader, point, {faults});
    reader.finish();
    const bool repeated = reader.sound() && std::ranges::any_of(loss.points, [&](LossPoint other) {
                            return other.frequency_hz == point.frequency_hz;
                          });
    if (repeated)
      reader.fault(DiagnosticCode::given_twice, "frequency_mhz", "two losses for the same frequency");
    loss.points.push_back(point);
  });
  std::stable_sort(loss.points.begin(), loss.points.end(),
                   [](LossPoint left, LossPoint right) { return left.frequency_hz < right.frequency_hz; });
  if (loss.points.empty()) loss.points.push_back({});
  return loss;
}

ElectricalProperties read_electrical(const Cursor& map, Faults& faults) {
  ObjectReader reader(map, "electrical", faults);
  ElectricalProperties properties;
  read_fields(reader, properties, {faults});
  reader.finish();
  if (reader.sound() && properties.min_frequency_hz > properties.max_frequency_hz)
    reader.fault(DiagnosticCode::impossible, "to_mhz", "is lower than from_mhz", "swap the two?");
  if (!reader.sound()) return properties;
  if (const auto flaw = electrical_flaw(properties)) {
    reader.fault(DiagnosticCode::impossible, flaw->key, flaw->message,
                 "it must hold from from_mhz to to_mhz; f is in GHz");
  }
  return properties;
}

BuildUp read_layers(const Cursor& list, Faults& faults) {
  BuildUp build_up;
  for_each_item(list, limits::kLayers, faults, [&](const Cursor& item) {
    build_up.layers.push_back(read_noun<Layer>(item, "this layer", faults));
  });
  return build_up;
}

void read_use(const Cursor& list, Material& material, Faults& faults) {
  for_each_item(list, limits::kUses, faults, [&](const Cursor& item) {
    const auto word = read_name(item, faults);
    if (!word) return;
    if (std::find(kMaterialUses.begin(), kMaterialUses.end(), *word) == kMaterialUses.end()) {
      faults.add(item.mark(), DiagnosticCode::unknown_word, item.pointer(), "unknown use " + quoted(*word),
                 nearest_hint(*word, kMaterialUses));
    }
    material.use.push_back(*word);
  });
}

void read_group(const Cursor& cursor, Material& material, Faults& faults) {
  const auto word = read_name(cursor, faults);
  if (!word) return;
  if (std::find(kMaterialGroups.begin(), kMaterialGroups.end(), *word) == kMaterialGroups.end()) {
    faults.add(cursor.mark(), DiagnosticCode::unknown_word, cursor.pointer(),
               "unknown group " + quoted(*word), nearest_hint(*word, kMaterialGroups));
  }
  material.group = *word;
}

/// The power that passes a measured loss where it is least, with what leaks round it.
double passing_percent(const MeasuredLoss& measured, const std::optional<double>& leakage_db) {
  const auto percent = [](double loss_db) { return 100 * std::pow(10, -loss_db / 10); };
  const auto least = std::min_element(
      measured.points.begin(), measured.points.end(),
      [](const LossPoint& left, const LossPoint& right) { return left.loss_db < right.loss_db; });
  return std::min(100.0, percent(least->loss_db) + (leakage_db ? percent(*leakage_db) : 0));
}

/// What a measured wall lets through it cannot throw back as well.
void check_power(const Material& material, ObjectReader& reader) {
  const auto* measured = std::get_if<MeasuredLoss>(&material.kind);
  if (measured == nullptr || !material.reflects_percent || !reader.sound()) return;
  const double passing = passing_percent(*measured, material.leakage_db);
  if (*material.reflects_percent + passing <= 100 + kBalanceSlackPercent) return;
  reader.fault(DiagnosticCode::impossible, "reflects_percent",
               shortest_text(*material.reflects_percent) + " % thrown back and " + fixed_text(passing, 1) +
                   " % let through are more than arrives",
               "its loss leaves " + fixed_text(100 - passing, 1) + " at most");
}

/// The entry, and whether it could be read whole.
std::pair<Material, bool> read_material(const Cursor& cursor, const std::string& name, Faults& faults) {
  ObjectReader reader(cursor, label("material", name), faults);
  auto material = schema::unstated<Material>();
  material.name = name;
  read_fields(reader, material, {faults}, [&](std::string_view key, const Cursor& value) {
    if (key == "losses") material.kind = read_losses(value, faults);
    if (key == "electrical") material.kind = read_electrical(value, faults);
    if (key == "layers") material.kind = read_layers(value, faults);
    if (key == "use") read_use(value, material, faults);
    if (key == "group") read_group(value, material, faults);
  });
  const auto given = [&](std::string_view key) { return find(cursor.node(), key) != nullptr; };
  if (given("frequency_mhz") && !given("loss_db"))
    reader.fault(DiagnosticCode::conflicting_keys, "frequency_mhz", "goes with loss_db only");
  reader.finish();
  check_power(material, reader);
  if (!reader.sound()) material.kind = MeasuredLoss{{LossPoint{}}};
  return {std::move(material), reader.sound()};
}

bool may_be_layer(const MaterialTable& table, const std::string& name) {
  const auto found = table.find(name);
  return name == kAir ||
         (found != table.end() && std::holds_alternative<ElectricalProperties>(found->second.kind));
}

/// Layers are made of air or of what has electrical properties. What could not be read is not judged.
void check_layers(const Cursor& layers, const MaterialTable& table, const std::set<std::string>& unsound,
                  Faults& faults) {
  std::vector<std::string> known{kAir};
  for (const auto& [name, material] : table) {
    if (std::holds_alternative<ElectricalProperties>(material.kind)) known.push_back(name);
  }
  for (std::size_t i = 0; i < layers.node().items.size(); ++i) {
    const Cursor item = Cursor::at_item(layers, i, layers.node().items[i]);
    const Node* of = find(item.node(), "of");
    if (of == nullptr || of->kind != Node::Kind::scalar || of->text.empty()) continue;
    if (may_be_layer(table, of->text) || unsound.count(of->text) > 0) continue;
    const std::string path = item.pointer_to("of");
    if (table.count(of->text) > 0) {
      faults.add(of->mark, DiagnosticCode::impossible, path,
                 quoted(of->text) + " has no electrical properties, which a layer needs",
                 "layers are air or materials with electrical properties");
    } else {
      faults.add(of->mark, DiagnosticCode::unknown_name, path, "unknown material " + quoted(of->text),
                 faults.full() ? "" : name_hint("material", of->text, known));
    }
  }
}

}  // namespace

void read_materials(const Cursor& map, MaterialTable& into, Faults& faults) {
  std::set<std::string> unsound;
  for_each_named(map, limits::kTableRows, faults, [&](const Cursor& cursor, const Entry& entry) {
    if (entry.key == kNoMaterial || entry.key == kAir) {
      faults.add(entry.mark, DiagnosticCode::bad_name, cursor.pointer(),
                 "the material '" + entry.key + "' is built in and cannot be given");
      return;
    }
    auto [material, sound] = read_material(cursor, entry.key, faults);
    if (!sound) unsound.insert(entry.key);
    into.insert_or_assign(entry.key, std::move(material));
  });
  for (const Entry& entry : map.node().entries) {
    const Node* layers = find(entry.value, "layers");
    if (layers == nullptr || layers->kind != Node::Kind::sequence) continue;
    const Cursor material = Cursor::at_key(map, entry.key, entry.value);
    check_layers(Cursor::at_key(material, "layers", *layers), into, unsound, faults);
  }
}

}  // namespace linkmargin::yaml
