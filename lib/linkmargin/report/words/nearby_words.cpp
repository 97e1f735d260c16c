#include "linkmargin/report/words/nearby_words.hpp"

#include "linkmargin/link/budget.hpp"
#include "linkmargin/report/words/phrases.hpp"

#include <cmath>

namespace linkmargin {
namespace {

/// Less than this is not worth a figure.
constexpr double kLeastShiftDb = 0.05;

}  // namespace

std::string nearby_phrase(const Wording& wording, std::size_t readings) {
  return readings == 0 ? std::string() : wording.counted("nearby.used", readings);
}

std::string nearby_words(const Wording& wording, std::size_t readings, const Link& link) {
  if (!link.nearby_shift_db) return {};
  const double shift_db = *link.nearby_shift_db;
  if (std::abs(shift_db) < kLeastShiftDb) return wording.counted("nearby.too_far", readings);
  return wording.say(shift_db < 0 ? "nearby.lower" : "nearby.higher", {{"shift", wording.decibels(std::abs(shift_db))}});
}

std::string nearby_phrase(std::size_t readings) {
  if (readings == 0) return {};
  return counted(readings, "reading is", "readings are") +
         " counted: what is predicted near one follows it, and is the plan's again some metres away.";
}

std::string nearby_words(std::size_t readings, const Link& link) {
  if (!link.nearby_shift_db) return {};
  const double shift_db = *link.nearby_shift_db;
  const std::string counted_in = "Of the " + counted(readings, "reading", "readings") + " given, ";
  if (std::abs(shift_db) < kLeastShiftDb) return counted_in + "none is near enough to move this link.";
  return counted_in + "those near by put the level here " + with_unit(std::abs(shift_db), 1, "dB") +
         (shift_db < 0 ? " under" : " over") + " what the plan gives: counted in both directions (" +
         quoted_name(term_word(BudgetTerm::nearby_readings)) + "), not in the path loss.";
}

}  // namespace linkmargin
