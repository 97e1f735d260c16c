#pragma once

#include "linkmargin/report/words/wording.hpp"
#include "linkmargin/analysis/survey/spot_search.hpp"

#include <string>

namespace linkmargin {

/// "9 cm"; under 2 cm with a decimal.
std::string centimetres_text(double distance_m);

/// Which spots to try and how, as sentences.
std::string spots_words(const Wording& wording, const SpotTrial& trial);

/// Which spots to try, as a sentence: "Try six spots all round, 5 cm from there, then twelve, 10 cm from there."
std::string spots_words(const SpotTrial& trial);

}  // namespace linkmargin
