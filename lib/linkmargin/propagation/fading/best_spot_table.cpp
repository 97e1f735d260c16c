#include "linkmargin/propagation/fading/best_spot_table.hpp"

#include "linkmargin/base/embedded.hpp"
#include "linkmargin/propagation/fading/packed_numbers.hpp"

#include <stdexcept>
#include <vector>

namespace linkmargin::best_spot_table {
namespace {

std::vector<float> read_table() {
  std::vector<float> values;
  values.reserve(kFields * kScores.size());
  for (const int value : packed_numbers::unpacked(embedded::best_spot_table(), kStrides))
    values.push_back(static_cast<float>(value / kScale));
  if (values.size() != kFields * kScores.size())
    throw std::logic_error("the table of best spots lacks numbers");
  return values;
}

}  // namespace

std::span<const float> amplitudes() {
  static const std::vector<float> table = read_table();
  return table;
}

}  // namespace linkmargin::best_spot_table
