#pragma once

#include "linkmargin/report/link_words/cause_words.hpp"
#include "linkmargin/report/page/page_model.hpp"

#include <optional>
#include <string>
#include <vector>

// Inside report/ only: what takes how much of a reading, from the air alone to what is expected.
namespace linkmargin::page {

/// One step down, or up, on the scale of readings; readings not cut at 0 and 100.
struct FallStep {
  enum class Kind { distance, thing, bends, gains, mounting, learned, expected };
  Kind kind = Kind::thing;
  std::string text;
  double from_percent = 0;  ///< of the first and the last step 0
  double to_percent = 0;
  double loss_db = 0;              ///< 0 for the first and the last
  std::size_t number = 0;          ///< of a thing in the way, in the order of the way; 0: none
  std::optional<Point3> at{};      ///< of a numbered thing
  const LossItem* item = nullptr;  ///< of a numbered thing
};

/// Of the direction that counts. Things that cost less than kSmallDb are one step without a number.
std::vector<FallStep> fall(const PageModel& content, const DevicePage& entry);

}  // namespace linkmargin::page
