#include "linkmargin/propagation/receiver/man_made_noise.hpp"

#include <cmath>

namespace linkmargin {
namespace {

double factor(double decibels) {
  return std::pow(10, decibels / 10);
}

}  // namespace

double business_noise_db(double frequency_hz) {
  require_in(kBusinessNoiseHz, frequency_hz);
  return 44.3 - 12.3 * std::log10(frequency_hz / 1e6);
}

double total_noise_figure_db(double external_noise_db, double receiver_noise_db) {
  require_in(kExternalNoiseDb, external_noise_db);
  require_in(kReceiverNoiseDb, receiver_noise_db);
  return 10 * std::log10(factor(external_noise_db) + factor(receiver_noise_db) - 1);
}

}  // namespace linkmargin
