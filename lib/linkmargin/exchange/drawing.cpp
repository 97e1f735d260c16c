#include "linkmargin/exchange/drawing.hpp"

#include <algorithm>

namespace linkmargin::exchange {

std::uint32_t Drawing::layer(std::string_view name) {
  const auto known = std::ranges::find(layers, name);
  const auto position = static_cast<std::uint32_t>(known - layers.begin());
  if (known == layers.end()) layers.emplace_back(name);
  return position;
}

}  // namespace linkmargin::exchange
