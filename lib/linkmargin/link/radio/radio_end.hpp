#pragma once

#include "linkmargin/base/units.hpp"
#include "linkmargin/site/radio.hpp"

#include <optional>

namespace linkmargin {

/// Metal that a radio is fixed before.
struct MetalSheet {
  double front_db = 0;              ///< what it costs towards its own side
  double behind_db = 0;             ///< and towards the other
  std::optional<double> faces_deg;  ///< where its own side is; absent: not known
};

/// One end of a link with everything about its radio resolved to numbers.
struct RadioEnd {
  std::optional<Dbm> eirp;         ///< absent: it does not transmit
  double gain_dbi = 0;             ///< on reception
  std::optional<Dbm> sensitivity;  ///< absent: it does not receive
  double mount_loss_db = 0;
  double body_loss_db = 0;
  std::optional<MetalSheet> metal{};        ///< set by on_mount() (link/radio/metal_mount.hpp)
  double metal_loss_db = 0;                 ///< towards the other end
  std::optional<double> noise_figure_db{};  ///< absent: the profile states none
  double noise_rise_db = 0;  ///< over its own noise, where it stands (link/radio/noise_rise.hpp)
  /// What was learned from readings, both directions: of the radio, and at a hub of all links too.
  double learned_offset_db = 0;
};

/// The radio of a profile, with the losses that it states.
RadioEnd radio_end(const Profile& profile);
RadioEnd radio_end(const Profile& profile, const Device& device);  ///< with the device's own losses

}  // namespace linkmargin
