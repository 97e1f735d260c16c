#pragma once

#include "linkmargin/prediction/serving/device_link.hpp"
#include "linkmargin/report/words/wording.hpp"

#include <string>

namespace linkmargin {

/// Between what the reading on site lies, and with what chance it reaches the threshold. Without a range that
/// is of the direction spoken of, the chance alone.
std::string outlook_range(const Wording& wording, const Link& link, double threshold_percent,
                          bool with_range = true);

}  // namespace linkmargin
