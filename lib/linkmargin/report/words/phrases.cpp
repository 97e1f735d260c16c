#include "linkmargin/report/words/phrases.hpp"

#include "linkmargin/base/number_text.hpp"
#include "linkmargin/base/shell_word.hpp"
#include "linkmargin/report/document/rounding.hpp"
#include "linkmargin/report/document/typed_site.hpp"
#include "linkmargin/report/words/codes/part_words.hpp"

#include <algorithm>
#include <cmath>

namespace linkmargin {
namespace {

struct CauseCode {
  LossCause cause;
  const char* code;
};
constexpr CauseCode kCauses[] = {{LossCause::distance, "distance"},
                                 {LossCause::ground, "ground"},
                                 {LossCause::wall, "wall"},
                                 {LossCause::opening, "opening"},
                                 {LossCause::floor, "floor"},
                                 {LossCause::obstacle, "obstacle"},
                                 {LossCause::edge, "edge"},
                                 {LossCause::beside_gap, "beside_gap"},
                                 {LossCause::round, "round"},
                                 {LossCause::corner, "corner"},
                                 {LossCause::bend, "bend"},
                                 {LossCause::other_ways, "other_ways"},
                                 {LossCause::slab_reflection, "slab_reflection"},
                                 {LossCause::reverberation, "reverberation"}};

struct TermCode {
  BudgetTerm term;
  const char* code;
};
constexpr TermCode kTerms[] = {{BudgetTerm::transmitted, "transmitted"},
                               {BudgetTerm::transmitter_mounting, "transmitter_mounting"},
                               {BudgetTerm::transmitter_metal, "transmitter_metal"},
                               {BudgetTerm::transmitter_body, "transmitter_body"},
                               {BudgetTerm::path, "path"},
                               {BudgetTerm::learned, "learned"},
                               {BudgetTerm::receiver_mounting, "receiver_mounting"},
                               {BudgetTerm::receiver_metal, "receiver_metal"},
                               {BudgetTerm::receiver_body, "receiver_body"},
                               {BudgetTerm::receive_antenna, "receive_antenna"},
                               {BudgetTerm::nearby_readings, "nearby_readings"}};

}  // namespace

std::string onward_words(const Wording& wording, std::string_view key, const TypedSite& typed,
                         const std::string& device) {
  return wording.say(key, {{"site", typed.file},
                           {"device", shell_word(device)},
                           {"options", typed.options},
                           {"tables", typed.tables}});
}

std::string cause_code(LossCause cause) {
  return std::ranges::find(kCauses, cause, &CauseCode::cause)->code;
}

std::string term_code(BudgetTerm term) {
  return std::ranges::find(kTerms, term, &TermCode::term)->code;
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

bool itemises(PathLossModel model) {
  return model == PathLossModel::walls || model == PathLossModel::multi_wall;
}

std::size_t things_in_the_way(const LossBreakdown& loss) {
  return static_cast<std::size_t>(std::ranges::count_if(loss.items, stands_in_the_way, &LossItem::cause));
}

namespace {

/// What costs less is no cause.
constexpr double kLeastObstacleDb = 0.5;

}  // namespace

const LossItem* biggest_obstacle(const LossBreakdown& loss) {
  const LossItem* biggest = nullptr;
  for (const LossItem& item : loss.items) {
    if (is_of_distance(item.cause) || item.loss_db < kLeastObstacleDb) continue;
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

double lost_db(const LinkBudget& way, std::initializer_list<BudgetTerm> terms) {
  double sum = 0;
  for (const BudgetItem& item : way.items) {
    if (std::ranges::find(terms, item.term) != terms.end()) sum -= item.value_db;
  }
  return sum;
}

bool is_reflection(LossCause cause) {
  return cause == LossCause::slab_reflection || cause == LossCause::reverberation;
}

double bends_db(const LossBreakdown& loss) {
  double sum_db = 0;
  for (const LossItem& item : loss.items) {
    const bool counts =
        !is_of_distance(item.cause) && !stands_in_the_way(item.cause) && !is_reflection(item.cause);
    if (counts) sum_db += item.loss_db;
  }
  return sum_db;
}

double diffuse_db(const LossBreakdown& loss) {
  double sum_db = 0;
  for (const LossItem& item : loss.items) sum_db -= is_reflection(item.cause) ? item.loss_db : 0;
  return sum_db;
}

std::string points_text(const Wording& wording, const ReadingScale& scale, double loss_db) {
  return wording.number(100 * loss_db / (scale.full - scale.zero).value, 0);
}

std::string way_text(const Wording& wording, const std::string& hub, const std::vector<std::string>& via) {
  std::string text = wording.name(hub);
  for (auto repeater = via.rbegin(); repeater != via.rend(); ++repeater)
    text = wording.say("placement.via", {{"hub", text}, {"repeater", wording.name(*repeater)}});
  return text;
}

std::string_view outcome_code(Outcome outcome) {
  switch (outcome) {
    case Outcome::good:
      return "good";
    case Outcome::doubtful:
      return "doubtful";
    case Outcome::weak:
      break;
  }
  return "weak";
}

}  // namespace linkmargin
