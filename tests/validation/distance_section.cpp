#include "linkmargin/propagation/path_loss/free_space.hpp"
#include "linkmargin/propagation/path_loss/site_general.hpp"

#include "fixtures/published_table.hpp"
#include "sections.hpp"

#include <stdexcept>

namespace linkmargin::validation {
namespace {

using linkmargin::testing::PublishedTable;

Outcome free_space() {
  Outcome outcome{"ITU-R P.525, free space, 433.92 to 2440 MHz, 1 to 100 m", {}, "dB", 0.0001};
  const auto values = PublishedTable::read("free_space.csv", 25);
  for (const auto& row : values.rows()) {
    outcome.deviations.add(free_space_loss_db(row.number("distance_m"), row.number("frequency_mhz") * 1e6),
                           row.number("loss_db"));
  }
  return outcome;
}

Outcome coefficient_form() {
  Outcome outcome{"ITU-R P.1238-11, coefficients, six environments", {}, "dB", 0.001};
  const auto values = PublishedTable::read("site_general_loss.csv", 36);
  for (const auto& row : values.rows()) {
    const auto* found = find_site_general(row.text("environment"), row.text("sight") == "LoS");
    if (found == nullptr) throw std::runtime_error(row.where() + ": no such environment");
    outcome.deviations.add(
        site_general_loss_db(*found, row.number("distance_m"), row.number("frequency_ghz") * 1e9),
        row.number("loss_db"));
  }
  return outcome;
}

Outcome power_loss_form() {
  Outcome outcome{"ITU-R P.1238 up to -8/-9, power loss with floors", {}, "dB", 0.001};
  const auto values = PublishedTable::read("power_loss.csv", 8);
  for (const auto& row : values.rows()) {
    const auto loss = power_loss(row.text("environment"), row.number("distance_m"),
                                 row.number("frequency_mhz") * 1e6, static_cast<int>(row.number("floors")));
    outcome.deviations.add(loss.loss_db, row.number("loss_db"));
  }
  return outcome;
}

}  // namespace

Section distance_section() {
  Section section;
  section.outcomes = {free_space(), coefficient_form(), power_loss_form()};
  section.text = "## Distance\n\n" + paragraph(R"(
      `free_space.csv`, `site_general_loss.csv` and `power_loss.csv`. The losses were computed elsewhere from the stated
      formulas, to three or four decimals; they are not printed in the Recommendations themselves. So this shows that
      the formulas and their tables are what the public copies say, not how well they predict.)");
  return section;
}

}  // namespace linkmargin::validation
