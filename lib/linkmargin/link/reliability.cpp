#include "linkmargin/link/reliability.hpp"

#include "linkmargin/propagation/shadowing.hpp"

namespace linkmargin {

double pass_probability(Dbm predicted, Dbm threshold, double sigma_db) {
  return chance_of_reaching(predicted.value, threshold.value, sigma_db);
}

}  // namespace linkmargin
