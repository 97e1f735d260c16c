#include "linkmargin/report/link_words/outlook_words.hpp"

namespace linkmargin {

std::string outlook_range(const Wording& wording, const Link& link, double threshold_percent,
                          bool with_range) {
  const std::string low = wording.percent(link.low_percent, threshold_percent);
  const std::string high = wording.percent(link.high_percent, threshold_percent);
  return wording.say(!with_range   ? "outlook.chance"
                     : low == high ? "outlook.one_value"
                                   : "outlook.range",
                     {{"low", low},
                      {"high", high},
                      {"threshold", wording.number(threshold_percent)},
                      {"chance", wording.chance(link.pass_probability)}});
}

}  // namespace linkmargin
