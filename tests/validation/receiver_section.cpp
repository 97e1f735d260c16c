#include "linkmargin/propagation/fading/shadowing.hpp"
#include "linkmargin/propagation/receiver/man_made_noise.hpp"
#include "linkmargin/propagation/receiver/noise.hpp"
#include "linkmargin/propagation/receiver/radiated_power.hpp"

#include "fixtures/published_table.hpp"
#include "sections.hpp"

#include <cmath>

namespace linkmargin::validation {
namespace {

using linkmargin::testing::PublishedTable;

Outcome thermal() {
  // k T B at 290 K and k T B + noise figure + ratio; computed from the definitions, not seen in print
  Outcome outcome{"thermal noise and sensitivity", {}, "dB", 0.001};
  outcome.deviations.add(thermal_noise_dbm(25e3), -129.996);
  outcome.deviations.add(thermal_noise_dbm(100e3), -123.975);
  outcome.deviations.add(thermal_noise_dbm(125e3), -123.006);
  outcome.deviations.add(thermal_noise_dbm(1e6), -113.975);
  outcome.deviations.add(sensitivity_dbm(25e3, 7, 10), -112.996);
  outcome.deviations.add(sensitivity_dbm(50e3, 8, 10), -108.985);
  outcome.deviations.add(sensitivity_dbm(100e3, 7, 12), -104.975);
  outcome.deviations.add(sensitivity_dbm(125e3, 6, -20), -137.006);
  return outcome;
}

Outcome man_made() {
  // ITU-R P.372, business area, 44.3 - 12.3 log10 f (one copy, agrees with memory), total factor with a 7 dB
  // receiver; values computed from the formula, not seen in print
  Outcome outcome{"ITU-R P.372, business area, and total noise figure", {}, "dB", 0.005};
  outcome.deviations.add(business_noise_db(433.92e6), 11.86);
  outcome.deviations.add(business_noise_db(868.3e6), 8.15);
  outcome.deviations.add(total_noise_figure_db(business_noise_db(433.92e6), 7), 12.87);
  outcome.deviations.add(total_noise_figure_db(business_noise_db(868.3e6), 7), 10.23);
  return outcome;
}

Outcome radiated() {
  Outcome outcome{"radiated power: 25 mW e.r.p. as e.i.r.p.", {}, "dB", 0.001};
  outcome.deviations.add(eirp_from_erp_dbm(10 * std::log10(25)), 16.1294);  // computed
  return outcome;
}

Outcome margins() {
  Outcome outcome{"log-normal margins, 90, 95 and 99 %", {}, "dB", 0.001};
  const auto values = PublishedTable::read("log_normal_margin.csv", 9);
  for (const auto& row : values.rows()) {
    outcome.deviations.add(log_normal_margin_db(row.number("chance"), row.number("sigma_db")),
                           row.number("margin_db"));
  }
  return outcome;
}

}  // namespace

Section receiver_section() {
  return {"## Receiver, noise and margins\n\n" + paragraph(R"(
              Definitions recomputed elsewhere, the business-area line of ITU-R P.372 (one copy, agrees with memory) and
              `log_normal_margin.csv`.)"),
          {thermal(), man_made(), radiated(), margins()}};
}

}  // namespace linkmargin::validation
