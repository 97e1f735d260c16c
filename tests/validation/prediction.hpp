#pragma once

#include "linkmargin/link/mechanism/scene.hpp"

#include "data_set.hpp"

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin::validation {

/// What is added to the straight line.
enum class Adds { all, diffraction, nothing };
inline constexpr std::array kAllAdds{Adds::all, Adds::diffraction, Adds::nothing};
void choose(PropagationSettings& radio, Adds adds);
std::string text(Adds adds);  ///< as a variant's name says it

/// A measured link beside what the program says of it.
struct PredictedLink {
  MeasuredLink measured;
  double path_loss_db = 0;
  double sigma_db = 0;  ///< the spread that the program claims of the local mean
  bool line_of_sight = false;
  double k_db = 0;  ///< of the fading from spot to spot
  int walls = 0;    ///< crossed by the straight line, closed leaves included
};

/// Every link of a set, in its order.
std::vector<PredictedLink> predict(const Site& site, Doors doors, const std::vector<MeasuredLink>& links);

using Choice = std::function<bool(const PredictedLink&)>;

inline bool any(const PredictedLink&) {
  return true;
}

/// The one figure fitted: the transmit power that makes the mean deviation of some links nothing.
double fitted_offset_db(const std::vector<PredictedLink>& links, const Choice& chosen);

/// How a prediction with one offset did.
struct Score {
  std::size_t count = 0;
  double rmse_db = 0;
  double bias_db = 0;           ///< measured over predicted: positive where the program is pessimistic
  double claimed_sigma_db = 0;  ///< mean
  double inside_percent = 0;    ///< inside each link's own 90 % interval of the local mean
};

Score score(const std::vector<PredictedLink>& links, double offset_db, const Choice& chosen);

/// What share of the links lies inside the interval that holds 90 % by the program, with this fading: off, of
/// the local mean; else of one reading at one spot.
double inside_percent(const std::vector<PredictedLink>& links, double offset_db, const Fading& fading,
                      const Choice& chosen);

/// What lies between free space and the level, as means. The measured one holds the transmit power that is
/// not known.
struct Excess {
  double measured_db = 0;
  double predicted_db = 0;
};

Excess mean_excess(const std::vector<PredictedLink>& links, double frequency_hz, const Choice& chosen);

/// Each anchor predicted with the offset of the others; over all links.
double leave_one_anchor_out_rmse_db(const std::vector<PredictedLink>& links, const Choice& chosen);

}  // namespace linkmargin::validation
