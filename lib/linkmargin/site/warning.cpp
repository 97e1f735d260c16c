#include "linkmargin/site/warning.hpp"

#include <algorithm>

namespace linkmargin {

void add_once(std::vector<Warning>& warnings, const std::vector<Warning>& more) {
  for (const Warning& warning : more) {
    if (std::ranges::find(warnings, warning) == warnings.end()) warnings.push_back(warning);
  }
}

}  // namespace linkmargin
