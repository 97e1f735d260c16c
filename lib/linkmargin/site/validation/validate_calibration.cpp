#include "linkmargin/base/nearest_name.hpp"
#include "linkmargin/site/validation/checks.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <utility>

namespace linkmargin::checks {
namespace {

using Positions = std::map<std::string, std::size_t>;

Positions positions_of(const std::vector<LearnedParameter>& all) {
  Positions positions;
  for (std::size_t i = 0; i < all.size(); ++i) positions[all[i].pointer] = i;
  return positions;
}

std::string pair_path(std::size_t pair) {
  return pointer({"calibration", "correlations", std::to_string(pair)});
}

/// @return whether every pair is of two known parameters, and none stands there twice
bool check_pairs(const Calibration& calibration, const Positions& positions, Diagnostics& faults) {
  const std::size_t before = faults.size();
  std::set<std::pair<std::string, std::string>> seen;
  for (std::size_t i = 0; i < calibration.correlations.size(); ++i) {
    const auto& [first, second, value] = calibration.correlations[i];
    const auto known = [&](const std::string& name, const char* place) {
      if (positions.contains(name)) return true;
      const std::string near = nearest_hint(name, keys(positions));
      add(faults, DiagnosticCode::unknown_name, pair_path(i) + "/" + place,
          "unknown parameter " + quoted(name),
          near.empty() ? "a correlation is [/calibration/offset_db, /radio/exponent, 0.5]" : near);
      return false;
    };
    const bool first_known = known(first, "0");
    const bool second_known = known(second, "1");
    if (!first_known || !second_known) continue;
    if (first == second) {
      add(faults, DiagnosticCode::impossible, pair_path(i),
          "a correlation of " + quoted(first) + " with itself");
    } else if (!seen.insert(std::minmax(first, second)).second) {
      add(faults, DiagnosticCode::impossible, pair_path(i),
          "the correlation of " + quoted(first) + " and " + quoted(second) + " stands there already");
    }
  }
  return faults.size() == before;
}

/// Whether a symmetric matrix is: Cholesky's decomposition runs through.
bool is_positive_definite(std::vector<std::vector<double>> rows) {
  constexpr double least = 1e-9;  // of a variance of 1: what rounded figures leave of a nothing
  for (std::size_t k = 0; k < rows.size(); ++k) {
    for (std::size_t i = 0; i < k; ++i) rows[k][k] -= rows[k][i] * rows[k][i];
    if (rows[k][k] <= least) return false;
    rows[k][k] = std::sqrt(rows[k][k]);
    for (std::size_t j = k + 1; j < rows.size(); ++j) {
      for (std::size_t i = 0; i < k; ++i) rows[j][k] -= rows[j][i] * rows[k][i];
      rows[j][k] /= rows[k][k];
    }
  }
  return true;
}

void check_correlations(const Calibration& calibration, Diagnostics& faults) {
  const Positions positions = positions_of(parameters(calibration));
  if (!check_pairs(calibration, positions, faults)) return;
  std::vector<std::vector<double>> rows(positions.size(), std::vector<double>(positions.size()));
  for (std::size_t i = 0; i < rows.size(); ++i) rows[i][i] = 1;
  for (const auto& [first, second, value] : calibration.correlations) {
    const std::size_t a = positions.at(first), b = positions.at(second);
    rows[a][b] = rows[b][a] = value;
  }
  if (is_positive_definite(std::move(rows))) return;
  add(faults, DiagnosticCode::impossible, "/calibration/correlations",
      "no parameters can go together like that", "the matrix of all correlations must be positive definite");
}

}  // namespace

void check_calibration(const Site& site, Diagnostics& faults) {
  if (!site.calibration) return;
  for (const auto& [name, shift] : site.calibration->materials) {
    if (!site.materials.contains(name))
      add_unknown(faults, pointer({"calibration", "materials", name}), "material", name,
                  [&] { return keys(site.materials); });
  }
  check_correlations(*site.calibration, faults);
}

}  // namespace linkmargin::checks
