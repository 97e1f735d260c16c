#pragma once

#include "linkmargin/analysis/survey/spot_search.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <string>

namespace linkmargin {

/// Which spots to try and how, as sentences.
std::string spots_words(const Wording& wording, const SpotTrial& trial);

/// One of the spots of a trial. @param position  in spot_offsets_m()
std::string spot_name(const Wording& wording, const SpotTrial& trial, std::size_t position);

}  // namespace linkmargin
