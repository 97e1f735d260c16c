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
  return wording.say(shift_db < 0 ? "nearby.lower" : "nearby.higher",
                     {{"shift", wording.decibels(std::abs(shift_db))}});
}

}  // namespace linkmargin
