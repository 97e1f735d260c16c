#include "linkmargin/link/budget.hpp"

#include <algorithm>

namespace linkmargin {
namespace {

void follow_level(LinkBudget& way, const ReadingScale& scale) {
  way.margin = way.level - (way.sensitivity + way.noise_rise);
  way.reading_percent = way.below_sensitivity() ? 0 : reading_percent(scale, way.level);
}

}  // namespace

double reading_percent(const ReadingScale& scale, Dbm level) {
  return std::clamp(100 * (level - scale.zero).value / (scale.full - scale.zero).value, 0.0, 100.0);
}

Dbm threshold_level(const ReadingScale& scale) {
  return scale.zero + Db{scale.weak_below_percent / 100 * (scale.full - scale.zero).value};
}

Dbm needed_level(const ReadingScale& scale, const LinkBudget& way) {
  return std::max(threshold_level(scale), way.sensitivity + way.noise_rise);
}

std::optional<LinkBudget> link_budget(const RadioEnd& from, const RadioEnd& to, double path_loss_db,
                                      const ReadingScale& scale) {
  if (!from.eirp || !to.sensitivity) return {};
  LinkBudget result;
  result.items = {{BudgetTerm::transmitted, from.eirp->value}};
  const auto add = [&](BudgetTerm term, double value_db) {
    if (value_db != 0) result.items.push_back({term, value_db});
  };
  add(BudgetTerm::transmitter_mounting, -from.mount_loss_db);
  add(BudgetTerm::transmitter_metal, -from.metal_loss_db);
  add(BudgetTerm::transmitter_body, -from.body_loss_db);
  add(BudgetTerm::path, -path_loss_db);
  add(BudgetTerm::learned, from.learned_offset_db + to.learned_offset_db);
  add(BudgetTerm::receiver_mounting, -to.mount_loss_db);
  add(BudgetTerm::receiver_metal, -to.metal_loss_db);
  add(BudgetTerm::receiver_body, -to.body_loss_db);
  add(BudgetTerm::receive_antenna, to.gain_dbi);
  for (const BudgetItem& item : result.items) result.level.value += item.value_db;
  result.sensitivity = *to.sensitivity;
  result.noise_rise = Db{to.noise_rise_db};
  follow_level(result, scale);
  return result;
}

void shift(LinkBudget& way, BudgetTerm term, double value_db, const ReadingScale& scale) {
  if (value_db == 0) return;
  way.items.push_back({term, value_db});
  way.level.value += value_db;
  follow_level(way, scale);
}

}  // namespace linkmargin
