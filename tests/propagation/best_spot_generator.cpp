/// Writes data/best-spot-table.csv: quantiles of the strongest amplitude within r of a
/// spot in random fields, by simulation. Run: best_spot_generator FILE [SAMPLES [SEED]]
///
/// A diffuse isotropic field is a sum of cylindrical waves (scattering in the plane) or spherical waves (in
/// space) with independent normal coefficients, which is the sum of infinitely many plane waves of random
/// phase. Written so, the field at the start is one coefficient (the order 0); all others vanish there. So
/// one sample of the others serves every present level: no sample is thrown away, and neighbours in the table
/// share their noise. Levels between rings (lambda / 32) are not seen; that costs under 0.03 dB.
#include "linkmargin/propagation/fading/best_spot_table.hpp"

#include "fixtures/best_spot_fields.hpp"
#include "fixtures/best_spot_writing.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <string>
#include <vector>

using namespace linkmargin;
using namespace linkmargin::best_spot_table;

namespace {

constexpr std::size_t kLanes = 8;

/// Quantiles of the phase of the whole field against its steady wave where the amplitude is known: von Mises
/// with concentration 2 steady amplitude / diffuse^2.
class Phase {
 public:
  explicit Phase(double concentration) {
    double sum = 0;
    for (std::size_t step = 0; step < kSteps; ++step) {
      const double angle = 2 * kPi * (static_cast<double>(step) + 0.5) / kSteps - kPi;
      sum += std::exp(concentration * (std::cos(angle) - 1));
      sums_.push_back(sum);
    }
  }
  double quantile(double chance) const {
    const double wanted = chance * sums_.back();
    const auto above = std::lower_bound(sums_.begin(), sums_.end(), wanted);
    const double below = above == sums_.begin() ? 0 : *(above - 1);
    const double within = (wanted - below) / (*above - below);
    return 2 * kPi * (static_cast<double>(above - sums_.begin()) + within) / kSteps - kPi;
  }

 private:
  static constexpr std::size_t kSteps = 8192;
  std::vector<double> sums_;
};

float largest(const float* re, const float* im, std::size_t count, float add_re, float add_im) {
  float lanes[kLanes] = {};
  for (std::size_t spot = 0; spot < count; spot += kLanes) {
    for (std::size_t lane = 0; lane < kLanes; ++lane) {
      const float x = re[spot + lane] + add_re, y = im[spot + lane] + add_im;
      const float power = x * x + y * y;
      lanes[lane] = power > lanes[lane] ? power : lanes[lane];
    }
  }
  return *std::max_element(lanes, lanes + kLanes);
}

/// Best powers of all samples: [shape][radius][present] -> one a sample.
using Powers = std::vector<std::vector<float>>;

std::size_t list_of(std::size_t shape, std::size_t radius, std::size_t present) {
  return (shape * kRadii.size() + radius) * kPresentEntries + present;
}

/// Walks outward and notes the best so far at each tabled radius.
void note_best(const Spots& spots, const Waves& waves, const Field& field, Complex start_wave,
               float start_power, std::size_t present, Powers& powers) {
  float line = start_power, disc = start_power;
  std::size_t radius = 0;
  for (std::size_t ring = 0; ring <= kRings; ++ring) {
    // where the present level is known the reader adds the choice of staying, which is a jump in the chance
    float four = ring == 0 || present == kPresent.size() ? start_power : 0;
    float step = start_power;
    if (ring > 0) {
      const auto [first, count] = spots.rings[ring];
      const Complex add = start_wave * waves.start_on_ring[ring];
      const auto add_re = static_cast<float>(add.real()), add_im = static_cast<float>(add.imag());
      disc = std::max(disc, largest(&field.re[first], &field.im[first], count, add_re, add_im));
      const auto power = [&](std::size_t spot) {
        const float x = field.re[spot] + add_re, y = field.im[spot] + add_im;
        return x * x + y * y;
      };
      step = power(first);
      const float ends = std::max(step, power(first + count / 2));
      line = std::max(line, ends);
      four = std::max({four, ends, power(first + count / 4), power(first + 3 * count / 4)});
    }
    if (static_cast<double>(ring) != std::round(kRadii[radius] * kRingsPerLambda)) continue;
    const float best[kShapes] = {line, disc, four, step};
    for (std::size_t shape = 0; shape < kShapes; ++shape)
      powers[list_of(shape, radius, present)].push_back(best[shape]);
    ++radius;
  }
}

/// All present levels in one random surrounding.
void sample_field(const Spots& spots, const Turns& turns, const Waves& waves,
                  const std::vector<Phase>& phases, bool in_space, double diffuse, Normals normals,
                  Powers& powers) {
  const double steady = std::sqrt(1 - diffuse * diffuse);
  Field field{std::vector<float>(spots.count), std::vector<float>(spots.count)};
  set_specular(spots, turns, in_space, normals, steady, field);
  const double chance = normals.uniform();
  const Complex free_start = diffuse * normals.complex();
  add_diffuse(spots, turns, waves, normals, diffuse, field);
  for (std::size_t present = 0; present < kPresentEntries; ++present) {
    const bool known = present < kPresent.size();
    const Complex start_wave =
        known ? std::polar(kPresent[present], phases[present].quantile(chance)) - steady : free_start;
    const auto power = static_cast<float>(std::norm(steady + start_wave));
    note_best(spots, waves, field, start_wave, power, present, powers);
  }
}

double quantile(const std::vector<float>& sorted, double score) {
  const double chance = std::erfc(-score / std::sqrt(2.0)) / 2;
  const double place = chance * static_cast<double>(sorted.size()) - 0.5;
  const auto below = static_cast<std::size_t>(place);
  const double share = place - static_cast<double>(below);
  return (1 - share) * std::sqrt(static_cast<double>(sorted[below])) +
         share * std::sqrt(static_cast<double>(sorted[below + 1]));
}

void write_field(std::vector<float>& powers, int* entry) {
  std::ranges::sort(powers);
  for (std::size_t score = 0; score < kScores.size(); ++score)
    entry[score] = static_cast<int>(std::lround(kScale * quantile(powers, kScores[score])));
}

void simulate(bool in_space, std::size_t diffuse, std::size_t samples, std::uint64_t seed, const Spots& spots,
              const Turns& turns, std::vector<int>& table) {
  const Waves waves(in_space);
  const double share = kDiffuse[diffuse];
  std::vector<Phase> phases;
  for (const double present : kPresent)
    phases.emplace_back(2 * std::sqrt(1 - share * share) * present / (share * share));
  Powers powers(kShapes * kRadii.size() * kPresentEntries);
  for (std::size_t sample = 0; sample < samples; ++sample)
    sample_field(spots, turns, waves, phases, in_space, share, Normals(seed, sample), powers);
  for (std::size_t shape = 0; shape < kShapes; ++shape)
    for (std::size_t radius = 0; radius < kRadii.size(); ++radius)
      for (std::size_t present = 0; present < kPresentEntries; ++present)
        write_field(powers[list_of(shape, radius, present)],
                    &table[place(in_space ? 1 : 0, shape, radius, diffuse, present)]);
}

}  // namespace

int main(int count, char** arguments) {
  if (count < 2) return std::fputs("usage: best_spot_generator FILE [SAMPLES [SEED]]\n", stderr), 2;
  const std::size_t samples = count > 2 ? std::strtoul(arguments[2], nullptr, 10) : 65536;
  const std::uint64_t seed = count > 3 ? std::strtoul(arguments[3], nullptr, 10) : 20260868;
  const Spots spots;
  const Turns turns(spots);
  std::vector<int> table(kFields * kScores.size());
  for (const bool in_space : {false, true})
    for (std::size_t diffuse = 0; diffuse < kDiffuse.size(); ++diffuse)
      simulate(in_space, diffuse, samples, seed, spots, turns, table);
  std::ofstream file(arguments[1], std::ios::binary);
  write_table(table, samples, seed, file);
  return file.flush() ? 0 : 1;
}
