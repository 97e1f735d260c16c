#include "linkmargin/report/words/phrases.hpp"

#include "linkmargin/report/words/codes/part_words.hpp"
#include "linkmargin/base/number_text.hpp"
#include "linkmargin/report/document/rounding.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

struct CauseWords {
  LossCause cause;
  const char* code;
  const char* word;
};
constexpr CauseWords kCauses[] = {{LossCause::distance, "distance", "distance"},
                                  {LossCause::ground, "ground", "ground"},
                                  {LossCause::wall, "wall", "wall"},
                                  {LossCause::opening, "opening", "opening"},
                                  {LossCause::floor, "floor", "floor"},
                                  {LossCause::obstacle, "obstacle", "obstacle"},
                                  {LossCause::edge, "edge", "edge"},
                                  {LossCause::beside_gap, "beside_gap", "edge"},
                                  {LossCause::round, "round", "edge"},
                                  {LossCause::corner, "corner", "corner"},
                                  {LossCause::bend, "bend", "bend"},
                                  {LossCause::other_ways, "other_ways", "other ways"},
                                  {LossCause::reverberation, "reverberation", "echoes"}};

struct TermWords {
  BudgetTerm term;
  const char* code;
  const char* word;
};
constexpr TermWords kTerms[] = {
    {BudgetTerm::transmitted, "transmitted", "transmitted (e.i.r.p.)"},
    {BudgetTerm::transmitter_mounting, "transmitter_mounting", "mounting at the transmitter"},
    {BudgetTerm::transmitter_metal, "transmitter_metal", "metal at the transmitter"},
    {BudgetTerm::transmitter_body, "transmitter_body", "body at the transmitter"},
    {BudgetTerm::path, "path", "path"},
    {BudgetTerm::learned, "learned", "learned from readings"},
    {BudgetTerm::receiver_mounting, "receiver_mounting", "mounting at the receiver"},
    {BudgetTerm::receiver_metal, "receiver_metal", "metal at the receiver"},
    {BudgetTerm::receiver_body, "receiver_body", "body at the receiver"},
    {BudgetTerm::receive_antenna, "receive_antenna", "receive antenna"},
    {BudgetTerm::nearby_readings, "nearby_readings", "readings near by"}};

}  // namespace

std::string cause_code(LossCause cause) {
  return std::ranges::find(kCauses, cause, &CauseWords::cause)->code;
}

std::string cause_word(LossCause cause) {
  return std::ranges::find(kCauses, cause, &CauseWords::cause)->word;
}

std::string term_code(BudgetTerm term) {
  return std::ranges::find(kTerms, term, &TermWords::term)->code;
}

std::string term_word(BudgetTerm term) {
  return std::ranges::find(kTerms, term, &TermWords::term)->word;
}

std::string cause_word(const Wording& wording, LossCause cause) {
  return wording.say("loss_cause." + cause_code(cause));
}

std::string term_word(const Wording& wording, BudgetTerm term) {
  return wording.say("term." + term_code(term));
}

std::string doors_phrase(const Wording& wording, Doors doors) {
  return wording.say(doors == Doors::armed ? "doors.armed" : "doors.open");
}

std::string reach_phrase(const Wording& wording, const Mobility& mobility) {
  if (const auto* radius = std::get_if<Mobility::Radius>(&mobility.reach))
    return wording.say("reach.radius", {{"far", wording.length(radius->radius_m)}});
  if (std::holds_alternative<Mobility::Along>(mobility.reach)) return wording.say("reach.along");
  if (const auto* room = std::get_if<Mobility::WithinRoom>(&mobility.reach))
    return wording.say("reach.room", {{"room", wording.name(room->room)}});
  return wording.say("reach.area");
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
  return static_cast<std::size_t>(std::ranges::count_if(loss.items, stands_in_the_way, &LossItem::cause));
}

const LossItem* biggest_obstacle(const LossBreakdown& loss) {
  const LossItem* biggest = nullptr;
  for (const LossItem& item : loss.items) {
    if (is_of_distance(item.cause) || item.loss_db <= 0) continue;
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
    if (stands_in_the_way(item.cause)) sum_db += item.loss_db;
  }
  return sum_db;
}

double bends_db(const LossBreakdown& loss) {
  double sum_db = 0;
  for (const LossItem& item : loss.items) {
    const bool counts = !is_of_distance(item.cause) && !stands_in_the_way(item.cause) &&
                        item.cause != LossCause::reverberation;
    if (counts) sum_db += item.loss_db;
  }
  return sum_db;
}

double diffuse_db(const LossBreakdown& loss) {
  for (const LossItem& item : loss.items) {
    if (item.cause == LossCause::reverberation) return -item.loss_db;
  }
  return 0;
}

}  // namespace linkmargin
