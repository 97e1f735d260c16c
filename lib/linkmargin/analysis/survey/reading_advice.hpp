#pragma once

#include "linkmargin/link/mechanism/scene.hpp"
#include "linkmargin/site/reading.hpp"
#include "linkmargin/site/site.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

struct ReadingAdviceOptions {
  int count = 3;               ///< readings to advise, at most; >= 1
  Doors doors = Doors::armed;  ///< when they will be taken, and those taken that do not say
  double step_m = 2;           ///< between the floor positions looked at; only where their rooms are drawn
  int threads = 1;             ///< >= 1; changes nothing in the result
};

/// Where a reading would tell most.
struct AdvisedReading {
  std::string device;              ///< where it hangs, or the one to carry there
  std::string hub;                 ///< which serves it there
  std::optional<Placement> place;  ///< a floor position; absent: where the device hangs
  bool again = false;              ///< read there before: now half a wave beside, at another spot
  double doubt = 0;                ///< wrong decisions to be expected with this and the advised before it
  double deviation_db = 0;         ///< root mean variance of the devices' local means with them
};

/// Which readings to take next, and what they are expected to settle.
struct ReadingAdvice {
  double doubt = 0;  ///< wrong decisions to be expected now: the sum over devices of the smaller chance,
                     ///< weak or not, of the local mean
  double deviation_db = 0;               ///< root mean variance of the devices' local means now
  std::vector<AdvisedReading> readings;  ///< the best first; each given those before it
};

/// Which readings to take next, so that a survey walk is short. Each device is a decision, weak or not; a
/// reading anywhere narrows what the site's parameters and the shadows about it leave open. Chosen one by
/// one, each for the largest fall of the doubt to be expected, and where it falls no more, of the deviation;
/// fewer than asked for where no other tells anything.
/// @param site   sound; best a calibrated one
/// @param taken  readings that have been taken, which the calibration may hold or not
ReadingAdvice reading_advice(const Site& site, const std::vector<Reading>& taken,
                             const ReadingAdviceOptions& options = {});

}  // namespace linkmargin
