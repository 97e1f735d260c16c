#pragma once

#include "linkmargin/analysis/survey/reading_verdict.hpp"
#include "linkmargin/messages/language.hpp"
#include "linkmargin/prediction/link_table.hpp"
#include "linkmargin/report/document/document.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <string>
#include <vector>

namespace linkmargin {

/// A reading with less chance than this, where the prediction is right, is worth a look for what the plan
/// does not know of.
inline constexpr double kUnusualProbability = 0.1;

/// A shift with at least this chance is worth the minutes; with less it is not told to.
inline constexpr double kWorthTryingProbability = 0.2;

/// A spot so many decibels off the mean of those about it is called a fade, or a good spot.
inline constexpr double kMarkedFadeDb = 3;

/// "fine", "better", "low", "fade", "wall", "unexplained": as in JSON.
std::string verdict_word(ReadingVerdict verdict);

/// What a reading comes to, in a sentence.
std::string reading_verdict_words(const Wording& wording, const Site& site, const Link& link,
                                  ReadingVerdict verdict);

/// What a reading taken on site says, for whoever stands before the device.
struct ReadingWords {
  std::string headline;
  std::vector<std::string> findings;  ///< what it says of place and spot, and with what chance a shift helps
  std::vector<std::string> steps;     ///< how to shift it; none where that is not the remedy
  std::vector<std::string> looks;     ///< causes to check, not findings; none where the reading is usual
};

/// @param table of all pairs, so that another hub's reading is known
ReadingWords reading_words(const Wording& wording, const Site& site, const LinkTable& table, const Link& link,
                           const ReadingAnswer& answer);

std::vector<Block> reading_blocks(const Wording& wording, const ReadingWords& words,
                                  const ReadingAnswer& answer);

/// All of it, a line a thought.
std::string reading_text(const ReadingWords& words);

}  // namespace linkmargin
