#include "linkmargin/propagation/fading/best_spot_table.hpp"

#include "linkmargin/base/embedded.hpp"

#include <algorithm>
#include <charconv>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace linkmargin::best_spot_table {
namespace {

/// Columns before the quantiles: scattering, shape, radius, diffuse and present amplitude, in the order of
/// place().
constexpr int kKeys = 5;

/// The quantiles at the end of "plane,line,0.25,0.88,0.4,201,...".
void read_row(std::string_view line, std::vector<float>& values) {
  const char* at = line.data();
  const char* const end = at + line.size();
  for (int key = 0; key < kKeys; ++key) at = std::min(std::find(at, end, ',') + 1, end);
  for (std::size_t score = 0; score < kScores.size(); ++score) {
    int value = 0;
    const auto [after, error] = std::from_chars(at, end, value);
    const bool last = score + 1 == kScores.size();
    if (error != std::errc() || (last ? after != end : after == end || *after != ','))
      throw std::logic_error("a line of the table of best spots is faulty: " + std::string(line));
    values.push_back(static_cast<float>(value / kScale));
    at = after + (last ? 0 : 1);
  }
}

std::vector<float> read_table() {
  std::vector<float> values;
  values.reserve(kFields * kScores.size());
  bool headed = false;
  for (std::string_view part : embedded::best_spot_table()) {  // each ends with a line
    while (!part.empty()) {
      const std::size_t end = std::min(part.find('\n'), part.size());
      const std::string_view line = part.substr(0, end);
      part.remove_prefix(std::min(end + 1, part.size()));
      if (line.empty() || line.front() == '#') continue;
      if (headed) read_row(line, values);
      headed = true;
    }
  }
  if (values.size() != kFields * kScores.size())
    throw std::logic_error("the table of best spots lacks lines");
  return values;
}

}  // namespace

std::span<const float> amplitudes() {
  static const std::vector<float> table = read_table();
  return table;
}

}  // namespace linkmargin::best_spot_table
