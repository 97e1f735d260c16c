#include "linkmargin/propagation/path_loss/log_distance.hpp"

#include "linkmargin/base/provenance.hpp"
#include "linkmargin/propagation/path_loss/free_space.hpp"

#include <cmath>

namespace linkmargin {
namespace {

constexpr std::string_view kTable =
    "Andersen, Rappaport, Yoshida, IEEE Communications Magazine 33(1), 1995, table 2";

constexpr LogDistanceEnvironment kEnvironments[] = {
    {"retail store", 914e6, 2.2, 8.7, kTable, kTwoCopies},
    {"grocery store", 914e6, 1.8, 5.2, kTable, kTwoCopies},
    {"office hard partition", 1500e6, 3.0, 7.0, kTable, kTwoCopies},
    {"office soft partition", 900e6, 2.4, 9.6, kTable, kTwoCopies},
    {"office soft partition", 1900e6, 2.6, 14.1, kTable, kTwoCopies},
    {"textile factory in sight", 1300e6, 2.0, 3.0, kTable, kTwoCopies},
    {"textile factory in sight", 4000e6, 2.1, 7.0, kTable, kTwoCopies},
    {"textile factory out of sight", 4000e6, 2.1, 9.7, kTable, kOneCopy},
    {"cereals factory in sight", 1300e6, 1.8, 6.0, kTable, kFromMemory},
    {"metalworking factory in sight", 1300e6, 1.6, 5.8, kTable, kFromMemory},
    {"metalworking factory out of sight", 1300e6, 3.3, 6.8, kTable, kFromMemory},
    {"home", 900e6, 3.0, 7.0, kTable, kFromMemory},
};

}  // namespace

double log_distance_loss_db(double distance_m, double loss_at_1m_db, double exponent) {
  require_in(kDistanceM, distance_m);
  require_in(kLossAt1mDb, loss_at_1m_db);
  require_in(kPathExponent, exponent);
  return loss_at_1m_db + 10 * exponent * std::log10(distance_m);
}

std::span<const LogDistanceEnvironment> log_distance_environments() {
  return kEnvironments;
}

const LogDistanceEnvironment* find_log_distance_environment(std::string_view name, double frequency_hz) {
  require_in(kFrequencyHz, frequency_hz);
  const auto apart = [&](const LogDistanceEnvironment& row) {
    return std::abs(std::log(row.frequency_hz / frequency_hz));
  };
  const LogDistanceEnvironment* nearest = nullptr;
  for (const LogDistanceEnvironment& row : kEnvironments) {
    if (row.name == name && (nearest == nullptr || apart(row) < apart(*nearest))) nearest = &row;
  }
  return nearest;
}

}  // namespace linkmargin
