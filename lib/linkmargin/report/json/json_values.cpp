#include "linkmargin/report/json/json_values.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/link_words/reading_words.hpp"
#include "linkmargin/report/words/codes/part_words.hpp"
#include "linkmargin/report/words/codes/warning_words.hpp"
#include "linkmargin/report/words/phrases.hpp"
#include "linkmargin/text/display_text.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin::json {
namespace {

Value link_budget(const Language& language, const LinkBudget& way) {
  const Wording wording(language);
  Value budget = Value::array();
  for (const BudgetItem& item : way.items) {
    budget.push_back({{"term", term_code(item.term)},
                      {"name", term_word(wording, item.term)},
                      {"value_db", number(item.value_db)}});
  }
  return {{"level_dbm", number(way.level.value)},
          {"margin_db", number(way.margin.value)},
          {"sensitivity_dbm", number(way.sensitivity.value)},
          {"noise_rise_db", number(way.noise_rise.value)},
          {"reading_percent", number(way.reading_percent)},
          {"budget", std::move(budget)}};
}

template <typename Table, typename Meaning>
std::string_view word_of(const Table& table, Meaning meaning) {
  return std::ranges::find(table, meaning, &EnumName<Meaning>::meaning)->word;
}

Value part(const PartName& name) {
  Value value{{"kind", word_of(kPartKinds, name.kind)}, {"piece", word_of(kPartPieces, name.piece)}};
  if (name.kind == PartKind::gap) {
    value["walls"] = Value::array({part(name.walls[0]), part(name.walls[1])});
  } else {
    value["names"] =
        name.second.empty() ? Value::array({name.first}) : Value::array({name.first, name.second});
  }
  return value;
}

Value losses(const Language& language, const LossBreakdown& loss) {
  Value items = Value::array();
  for (const LossItem& item : loss.items) {
    Value entry = {{"cause", cause_code(item.cause)},   {"name", item_text(language, item)},
                   {"material", item.material},         {"loss_db", number(item.loss_db)},
                   {"sigma_db", number(item.sigma_db)}, {"incidence_deg", number(item.incidence_deg)}};
    if (item.part.kind != PartKind::none) entry["part"] = part(item.part);
    if (item.shift_db != 0) entry["learned_shift_db"] = number(item.shift_db);
    items.push_back(std::move(entry));
  }
  return items;
}

/// The value that stands in a site file.
Value coordinate(double coordinate_m) {
  return number(*parse_number(coordinate_text(coordinate_m)));
}

Value learned_shifts(const std::map<std::string, LearnedShift>& shifts) {
  Value map = Value::object();
  for (const auto& [name, shift] : shifts) {
    map[name] = {{"shift_db", number(shift.shift_db)},
                 {"sigma_db", number(shift.sigma_db)},
                 {"readings", shift.readings}};
  }
  return map;
}

Value learned_radios(const std::map<std::string, LearnedRadio>& radios) {
  Value map = Value::object();
  for (const auto& [name, radio] : radios)
    map[name] = {{"offset_db", number(radio.offset_db)}, {"sigma_db", number(radio.sigma_db)}};
  return map;
}

/// As the section of a site file holds it.
Value calibration(const Calibration& learned) {
  Value pairs = Value::array();
  for (const auto& [first, second, value] : learned.correlations) {
    pairs.push_back(Value::array({first, second, number(value)}));
  }
  return {{"offset_db", number(learned.offset_db)},
          {"offset_sigma_db", number(learned.offset_sigma_db)},
          {"exponent_sigma", number(learned.exponent_sigma)},
          {"zero_sigma_db", number(learned.zero_sigma_db)},
          {"full_sigma_db", number(learned.full_sigma_db)},
          {"readings", learned.readings},
          {"materials", learned_shifts(learned.materials)},
          {"radios", learned_radios(learned.radios)},
          {"correlations", std::move(pairs)}};
}

struct EditWriter {
  Value operator()(double value) const { return number(value); }
  Value operator()(const std::string& text) const { return text; }
  Value operator()(bool flag) const { return flag; }
  Value operator()(Point2 at) const { return Value::array({coordinate(at.x), coordinate(at.y)}); }
  Value operator()(const NewRadio& radio) const {
    Value value = {{"profile", radio.profile},
                   {"storey", radio.storey},
                   {"at_m", (*this)(radio.at)},
                   {"height_m", number(radio.height_m)}};
    if (radio.capacity)
      value["capacity"] =
          radio.capacity->total ? Value(*radio.capacity->total) : Value(radio.capacity->by_class);
    return value;
  }
  Value operator()(const Calibration& learned) const { return calibration(learned); }
  Value operator()(const NewDevice& device) const {
    Value value = (*this)(device.radio);
    if (device.slots) value["slots"] = *device.slots;
    if (device.hub) value["hub"] = *device.hub;
    if (device.mount_loss_db) value["mount_loss_db"] = number(*device.mount_loss_db);
    return value;
  }
  Value operator()(const Obstacle& obstacle) const {
    Value corners = Value::array();
    for (const Point2 corner : obstacle.corners) corners.push_back((*this)(corner));
    Value value = {{"corners_m", std::move(corners)},
                   {"base_m", number(obstacle.base_m)},
                   {"height_m", number(obstacle.height_m)},
                   {"material", obstacle.construction.material}};
    if (obstacle.construction.thickness_m) value["thickness_m"] = number(*obstacle.construction.thickness_m);
    return value;
  }
  Value operator()(Removal) const { return nullptr; }
};

std::string shape_word(SpotShape shape) {
  switch (shape) {
    case SpotShape::line:
      return "line";
    case SpotShape::disc:
      return "disc";
    case SpotShape::four:
      return "four";
    case SpotShape::step:
      return "step";
  }
  return {};
}

Value spots(const SpotSearch& spot_search) {
  Value trials = Value::array();
  for (const SpotTrial& trial : spot_search.trials) {
    trials.push_back({{"distance_m", number(trial.distance_m)},
                      {"shape", trial.turned ? "turn" : shape_word(trial.shape)},
                      {"spots", trial.spots},
                      {"pass_probability", number(trial.pass_probability)},
                      {"recommended", &trial == spot_search.choice()}});
  }
  return trials;
}

Value tried(const std::optional<TriedSpots>& spots) {
  if (!spots) return nullptr;
  Value read = Value::array(), left = Value::array();
  const auto offset = [](const Point3& at) {
    return Value::array({number(at.x), number(at.y), number(at.z)});
  };
  for (const TriedSpot& spot : spots->read)
    read.push_back({{"offset_m", offset(spot.offset_m)}, {"percent", number(spot.percent)}});
  for (const Point3& at : spots->left_m) left.push_back(offset(at));
  return {{"read", std::move(read)},
          {"best", spots->best},
          {"reached", spots->reached},
          {"distance_m", number(spots->trial.distance_m)},
          {"wider", spots->wider},
          {"left", std::move(left)},
          {"next_probability", number(spots->next_probability)},
          {"pass_probability", number(spots->pass_probability)},
          {"worth", spots->worth}};
}

Value bound(ReadingKind kind) {
  if (kind == ReadingKind::exact) return nullptr;
  return kind == ReadingKind::at_most ? "at_most" : "at_least";
}

/// The texts of a value as they may be printed; keys are the program's own, or names.
void clean(Value& value) {
  if (value.is_string()) {
    value = printable_lines(value.get_ref<const std::string&>());
  } else if (value.is_structured()) {
    for (Value& item : value) clean(item);
  }
}

}  // namespace

Value number(double value) {
  return std::isfinite(value) ? Value(rounded_for_programs(value)) : Value(nullptr);
}

Value warnings(const Language& language, const std::vector<Warning>& warnings) {
  Value items = Value::array();
  for (const Warning& warning : warnings)
    items.push_back({{"code", code_name(warning.code)}, {"text", warning_text(language, warning)}});
  return items;
}

Value link(const Language& language, const Link& link) {
  const LinkBudget& weaker = link.weaker();
  Value value{{"device", link.device},
              {"hub", link.hub},
              {"via", link.via},
              {"serving", link.serving},
              {"distance_m", number(link.loss.distance_m)},
              {"path_loss_db", number(link.loss.path_loss_db)},
              {"losses", losses(language, link.loss)},
              {"uplink", link_budget(language, link.uplink)},
              {"downlink", link.downlink ? link_budget(language, *link.downlink) : Value(nullptr)},
              {"level_dbm", number(weaker.level.value)},
              {"margin_db", number(weaker.margin.value)},
              {"reading_percent", number(weaker.reading_percent)},
              {"sigma_db", number(link.sigma_db)},
              {"pass_probability", number(link.pass_probability)},
              {"reading_low_percent", number(link.low_percent)},
              {"reading_high_percent", number(link.high_percent)},
              {"outage", number(link.outage)},
              {"k_db", number(link.k_db)},
              {"weak", link.outcome == Outcome::weak},
              {"outcome", outcome_code(link.outcome)},
              {"cautions", warnings(language, link.loss.warnings)}};
  if (link.onward) value["own_hop_probability"] = number(link.own_probability);
  if (link.read_percent) {
    value["read_percent"] = number(*link.read_percent);
    if (!link.earlier_percent.empty()) value["earlier_percent"] = link.earlier_percent;
  }
  if (link.nearby_shift_db) value["nearby_shift_db"] = number(*link.nearby_shift_db);
  return value;
}

Value edit_value(const EditValue& value) {
  return std::visit(EditWriter{}, value);
}

Value edits(std::span<const Edit> edits) {
  Value items = Value::array();
  for (const Edit& edit : edits) {
    items.push_back({{"path", edit.path}, {"value", edit_value(edit.value)}});
  }
  return items;
}

Value reading(const ReadingAnswer& answer) {
  return {{"percent", number(answer.reading.percent)},
          {"level_dbm", number(answer.reading.level.value)},
          {"bound", bound(answer.reading.kind)},
          {"over_predicted_db", number(answer.reading.over_predicted.value)},
          {"deviations", number(answer.deviations)},
          {"as_low_probability", number(answer.as_low_probability)},
          {"as_high_probability", number(answer.as_high_probability)},
          {"shadow_db", number(answer.shadow.mean_db)},
          {"shadow_sigma_db", number(answer.shadow.deviation_db)},
          {"fade_db", number(answer.fade.mean_db)},
          {"fade_sigma_db", number(answer.fade.deviation_db)},
          {"place_pass_probability", number(answer.place_probability)},
          {"verdict", verdict_word(answer.verdict)},
          {"spots", spots(answer.spots)},
          {"tried", tried(answer.tried)}};
}

std::string text(Value value) {
  clean(value);
  return value.dump(2, ' ', false, Value::error_handler_t::replace) + "\n";
}

std::string line(Value value) {
  clean(value);
  return value.dump(-1, ' ', false, Value::error_handler_t::replace);
}

}  // namespace linkmargin::json
