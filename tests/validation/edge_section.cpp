#include "linkmargin/base/units.hpp"
#include "linkmargin/propagation/diffraction/diffraction.hpp"

#include "fixtures/published_table.hpp"
#include "sections.hpp"

#include <array>
#include <cmath>
#include <complex>

namespace linkmargin::validation {
namespace {

/// J(v) and the exact loss; both computed elsewhere, the formula from two or more agreeing copies of ITU-R
/// P.526.
struct Edge {
  double v;
  double approximate_db;
  double exact_db;
};

constexpr std::array<Edge, 10> kEdges{{{-0.78, 0, -0.0111},
                                       {-0.5, 1.9592, 1.8586},
                                       {0, 6.0329, 6.0206},
                                       {0.5, 10.2878, 10.2338},
                                       {1, 13.9257, 13.8641},
                                       {1.5, 16.7844, 16.7773},
                                       {2, 19.0429, 19.0910},
                                       {2.4, 20.5393, 20.6182},
                                       {3, 22.4160, 22.5218},
                                       {5, 26.8136, 26.9362}}};

double loss_db(double v) {
  return -20 * std::log10(std::abs(half_plane_coefficient(v)));
}

constexpr double kLineSourceHz = 868.3e6;

/// Level and phase of the wave round the edge of a half plane lit by a line source.
void add_line_sources(Outcome& level, Outcome& phase) {
  const auto table = testing::PublishedTable::read("half_plane_line_source.csv", 36);
  for (const auto& row : table.rows()) {
    const double source_m = row.number("source_m"), receiver_m = row.number("receiver_m");
    const double bend = row.number("bend_deg") * kPi / 180;
    const double straight_m =
        std::sqrt(source_m * source_m + receiver_m * receiver_m + 2 * source_m * receiver_m * std::cos(bend));
    const std::complex<double> wave =
        edge_wave(opening_edge(source_m + receiver_m, straight_m, wavelength_m(kLineSourceHz), false));
    level.deviations.add(20 * std::log10(std::abs(wave)), row.number("level_db"));
    const std::complex<double> turn = wave * std::polar(1.0, -row.number("phase_deg") * kPi / 180);
    phase.deviations.add(std::arg(turn) * 180 / kPi, 0);
  }
}

}  // namespace

Section edge_section() {
  Section section;
  Outcome formula{
      "knife edge by the Fresnel integral against ITU-R P.526's J(v), v from -0.78 to 5", {}, "dB", 0.13};
  Outcome exact{"knife edge by the Fresnel integral, v from -0.78 to 5", {}, "dB", 0.0001};
  for (const Edge& edge : kEdges) {
    formula.deviations.add(loss_db(edge.v), edge.approximate_db);
    exact.deviations.add(loss_db(edge.v), edge.exact_db);
  }
  Outcome boundary{"half the field on the shadow boundary, 6.02 dB", {}, "dB", 1e-9, 9};
  boundary.deviations.add(loss_db(0), 20 * std::log10(2.0));
  Outcome sum{"share(v) + share(-v) = 1, v from 0 to 10", {}, "of the field", 1e-9, 9};
  for (int step = 0; step <= 100; ++step) {
    const double v = step / 10.0;
    sum.deviations.add(std::abs(half_plane_coefficient(v) + half_plane_coefficient(-v)), 1);
  }
  Outcome level{
      "wave round an edge, line source, bends of 10 to 150 degrees, exact series: level", {}, "dB", 0.03};
  Outcome phase{"the same: phase", {}, "degrees", 0.7};
  add_line_sources(level, phase);
  section.outcomes = {formula, exact, boundary, sum, level, phase};
  section.text = "## Edges\n\n" + paragraph(R"(
      The Fresnel integral at ten places, computed elsewhere, and ITU-R P.526's formula for a single knife edge, which stands
      for it within 0.13 dB. `half_plane_line_source.csv`: the exact field of a line source behind a half plane of metal, mean of both
      polarisations, legs of 0.5 to 5 m at 868.3 MHz, by its series (`tests/propagation/edges_scipy.py`).)");
  return section;
}

}  // namespace linkmargin::validation
