#include "linkmargin/propagation/receiver/man_made_noise.hpp"
#include "linkmargin/propagation/receiver/noise.hpp"
#include "linkmargin/propagation/receiver/radiated_power.hpp"
#include "linkmargin/propagation/fading/shadowing.hpp"

#include "fixtures/published_table.hpp"
#include "sections.hpp"

#include <stdexcept>

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
  const ManMadeNoise* line = find_man_made_noise("business");
  if (line == nullptr) throw std::runtime_error("no business-area noise");
  outcome.deviations.add(man_made_noise_db(*line, 433.92e6), 11.86);
  outcome.deviations.add(man_made_noise_db(*line, 868.3e6), 8.15);
  outcome.deviations.add(total_noise_figure_db(man_made_noise_db(*line, 433.92e6), 7), 12.87);
  outcome.deviations.add(total_noise_figure_db(man_made_noise_db(*line, 868.3e6), 7), 10.23);
  return outcome;
}

Outcome radiated() {
  // e.r.p. to e.i.r.p. (computed) and 50 mV/m at 3 m (47 CFR 15.249; one copy and memory; conversion
  // computed)
  Outcome outcome{"radiated power: 25 mW e.r.p., 50 mV/m at 3 m", {}, "dB", 0.001};
  outcome.deviations.add(eirp_from_erp_dbm(dbm_from_mw(25)), 16.1294);
  outcome.deviations.add(eirp_from_field_strength_dbm(0.05, 3), -1.249);
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
