#pragma once

#include <string>
#include <vector>

namespace linkmargin::validation {

/// One file of docs/figures/.
struct Figure {
  std::string file_name;
  std::string svg;
};

std::vector<Figure> figures();

}  // namespace linkmargin::validation
