// pack_best_spots IN OUT: writes data/best-spot-table.csv as it is built into the library
// (propagation/fading/packed_numbers.hpp).

#include "linkmargin/propagation/fading/best_spot_table.hpp"
#include "linkmargin/propagation/fading/packed_numbers.hpp"

#include <algorithm>
#include <charconv>
#include <exception>
#include <fstream>
#include <iostream>
#include <stdexcept>
#include <string>
#include <vector>

namespace {

using namespace linkmargin::best_spot_table;

/// Columns before the quantiles: scattering, shape, radius, diffuse and present amplitude, in the order of
/// place().
constexpr int kKeys = 5;

/// The quantiles at the end of "plane,line,0.25,0.88,0.4,201,...".
void read_row(const std::string& line, std::vector<int>& values) {
  const char* at = line.data();
  const char* const end = at + line.size();
  for (int key = 0; key < kKeys; ++key) at = std::min(std::find(at, end, ',') + 1, end);
  for (std::size_t score = 0; score < kScores.size(); ++score) {
    const auto [after, error] = std::from_chars(at, end, values.emplace_back());
    const bool last = score + 1 == kScores.size();
    if (error != std::errc() || (last ? after != end : after == end || *after != ','))
      throw std::runtime_error("a faulty line: " + line);
    at = after + (last ? 0 : 1);
  }
}

std::vector<int> read_table(const char* path) {
  std::ifstream in(path, std::ios::binary);
  std::vector<int> values;
  bool headed = false;
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line.front() == '#') continue;
    if (headed) read_row(line, values);
    headed = true;
  }
  if (values.size() != kFields * kScores.size()) throw std::runtime_error("lines are missing");
  return values;
}

}  // namespace

int main(int argc, char** argv) try {
  if (argc != 3) throw std::runtime_error("pack_best_spots takes IN and OUT");
  std::ofstream out(argv[2], std::ios::binary);
  out << linkmargin::packed_numbers::packed(read_table(argv[1]), kStrides);
  out.flush();
  if (!out) throw std::runtime_error(std::string("cannot write ") + argv[2]);
  return 0;
} catch (const std::exception& fault) {
  std::cerr << fault.what() << '\n';
  return 1;
}
