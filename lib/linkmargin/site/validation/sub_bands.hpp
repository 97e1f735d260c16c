#pragma once

#include "linkmargin/site/environment.hpp"
#include "linkmargin/site/radio.hpp"

#include <optional>
#include <string>
#include <vector>

namespace linkmargin {

/// A row of data/sub-bands.csv: frequencies at which radios need no licence, and what they may radiate there.
struct SubBand {
  enum class LimitOf { erp_mw, eirp_dbm, field_uv_per_m };
  Region region = Region::none;
  double from_hz = 0;
  double to_hz = 0;  ///< both belong to it
  LimitOf limit_of = LimitOf::erp_mw;
  double limit_at_from = 0;  ///< in what `limit_of` says; in a straight line to the other
  double limit_at_to = 0;
  std::optional<double> duty_percent;
  bool only_hopping_or_wide = false;  ///< frequency hopping, or digital modulation at least 500 kHz wide
  std::string rule;                   ///< "ERC/REC 70-03 Annex 1"
  std::string source;                 ///< how well that is known
};

/// The table, in its order. @throws std::logic_error when it cannot be read, which is a defect
const std::vector<SubBand>& sub_bands();

/// The limit of radiated power over a half-wave dipole. @param frequency_hz  in the sub-band
double erp_limit_dbm(const SubBand& band, double frequency_hz);

/// The row of a region that allows the most at a frequency, among those for any radio or those for hopping
/// and wide ones; nullptr where there is none.
const SubBand* sub_band(Region region, double frequency_hz, bool only_hopping_or_wide = false);

/// What a profile radiates at most over a half-wave dipole; nothing where it does not transmit.
std::optional<double> erp_dbm(const Profile& profile);

}  // namespace linkmargin
