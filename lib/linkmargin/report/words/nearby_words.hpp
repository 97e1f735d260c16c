#pragma once

#include "linkmargin/prediction/serving/device_link.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <cstddef>
#include <string>

/// What readings near by do to predictions, in plain words. Not installed.
namespace linkmargin {

std::string nearby_phrase(const Wording& wording, std::size_t readings);

/// What they do to one link; nothing where there are none.
std::string nearby_words(const Wording& wording, std::size_t readings, const Link& link);

}  // namespace linkmargin
