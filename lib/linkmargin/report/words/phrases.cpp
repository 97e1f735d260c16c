#include "linkmargin/report/words/phrases.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/document/rounding.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

bool stands_in_the_way(const LossItem& item) {
  return item.cause != LossCause::distance && item.cause != LossCause::detour;
}

}  // namespace

std::string cause_word(LossCause cause) {
  switch (cause) {
    case LossCause::distance:
      return "distance";
    case LossCause::wall:
      return "wall";
    case LossCause::opening:
      return "opening";
    case LossCause::floor:
      return "floor";
    case LossCause::obstacle:
      return "obstacle";
    case LossCause::detour:
      return "route";
  }
  return "distance";
}

std::string model_word(PathLossModel model) {
  const auto* found = std::ranges::find(kModelWords, model, &EnumName<PathLossModel>::meaning);
  return std::string(found->word);
}

std::string doors_word(Doors doors) {
  return doors == Doors::armed ? "armed" : "open";
}

std::string doors_phrase(Doors doors) {
  return doors == Doors::armed ? "doors closed (armed)" : "doors open";
}

std::string quoted_name(std::string_view name) {
  std::string text;
  text.reserve(name.size() + 2);
  text += '\'';
  text += name;
  text += '\'';
  return text;
}

std::string with_unit(double value, int decimals, std::string_view unit) {
  return fixed_text(value, decimals) + " " + std::string(unit);
}

std::string counted(std::size_t count, std::string_view singular, std::string_view plural) {
  return std::to_string(count) + " " + std::string(count == 1 ? singular : plural);
}

std::string listed(const std::vector<std::string>& names, std::size_t most) {
  std::string text;
  const std::size_t shown = names.size() > most ? most : names.size();
  for (std::size_t i = 0; i < shown; ++i) {
    const bool last = i + 1 == names.size();
    if (i > 0) text += last ? " and " : ", ";
    text += names[i];
  }
  if (shown < names.size()) text += " and " + std::to_string(names.size() - shown) + " more";
  return text;
}

std::string chance_phrase(double probability) {
  if (is_no_chance(probability)) return "less than 1 in 100";
  if (is_certain(probability)) return "more than 99 in 100";
  return "about " + chance_percent(probability) + " in 100";
}

std::string chance_percent(double probability) {
  if (is_no_chance(probability)) return "<1";
  if (is_certain(probability)) return ">99";
  return fixed_text(whole_chance(probability), 0);
}

std::string chance_text(double probability) {
  return chance_percent(probability) + " in 100";
}

std::string reach_phrase(const Mobility& mobility) {
  if (const auto* radius = std::get_if<Mobility::Radius>(&mobility.reach)) {
    return "within " + shortest_text(radius->radius_m) + " m of its place";
  }
  if (std::holds_alternative<Mobility::Along>(mobility.reach)) return "along its line";
  if (const auto* room = std::get_if<Mobility::WithinRoom>(&mobility.reach)) return "within " + room->room;
  return "within its area";
}

bool itemises(PathLossModel model) {
  return model == PathLossModel::walls || model == PathLossModel::multi_wall;
}

std::size_t things_in_the_way(const LossBreakdown& loss) {
  return static_cast<std::size_t>(std::ranges::count_if(loss.items, stands_in_the_way));
}

std::string bends_phrase(const LossBreakdown& loss) {
  constexpr std::string_view bend = "bend at ";  // as a way round names its bends (link/mechanism/detours.cpp)
  if (loss.turns.empty()) return {};
  std::vector<std::string> names;
  for (const LossItem& item : loss.items) {
    if (item.cause == LossCause::detour && item.name.starts_with(bend))
      names.push_back(item.name.substr(bend.size()));
  }
  return listed(names, names.size());
}

const LossItem* biggest_obstacle(const LossBreakdown& loss) {
  const LossItem* biggest = nullptr;
  for (const LossItem& item : loss.items) {
    if (item.cause == LossCause::distance || item.loss_db <= 0) continue;
    if (biggest == nullptr || item.loss_db > biggest->loss_db) biggest = &item;
  }
  return biggest;
}

bool distance_outweighs(const LossBreakdown& loss) {
  const LossItem* obstacle = biggest_obstacle(loss);
  const double beyond_db = loss.distance_m > kNearM ? 20 * std::log10(loss.distance_m / kNearM) : 0;
  return beyond_db > (obstacle == nullptr ? 0 : obstacle->loss_db);
}

double obstruction_db(const LossBreakdown& loss) {
  double sum_db = 0;
  for (const LossItem& item : loss.items) {
    if (stands_in_the_way(item)) sum_db += item.loss_db;
  }
  return sum_db;
}

double bends_db(const LossBreakdown& loss) {
  double sum_db = 0;
  for (const LossItem& item : loss.items) {
    if (item.cause == LossCause::detour && item.name != kReverberationName) sum_db += item.loss_db;
  }
  return sum_db;
}

double diffuse_db(const LossBreakdown& loss) {
  for (const LossItem& item : loss.items) {
    if (item.name == kReverberationName) return -item.loss_db;
  }
  return 0;
}

}  // namespace linkmargin
