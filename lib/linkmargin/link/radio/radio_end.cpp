#include "linkmargin/link/radio/radio_end.hpp"

#include "linkmargin/propagation/receiver/noise.hpp"
#include "linkmargin/propagation/receiver/radiated_power.hpp"

namespace linkmargin {
namespace {

Dbm eirp_of(const TransmitPower& power, double gain_dbi) {
  switch (power.kind) {
    case TransmitPower::Kind::erp:
      return Dbm{eirp_from_erp_dbm(power.value.value)};
    case TransmitPower::Kind::eirp:
      return power.value;
    case TransmitPower::Kind::conducted:
      return power.value + Db{gain_dbi};
  }
  return power.value;
}

std::optional<Dbm> sensitivity_of(const Profile& profile) {
  if (const auto* stated = std::get_if<Dbm>(&profile.sensitivity)) return *stated;
  if (const auto* noise = std::get_if<ReceiverNoise>(&profile.sensitivity)) {
    return Dbm{sensitivity_dbm(noise->bandwidth_hz, noise->noise_figure_db, noise->required_snr_db)};
  }
  return {};
}

}  // namespace

RadioEnd radio_end(const Profile& profile) {
  RadioEnd end;
  if (profile.transmit) end.eirp = eirp_of(*profile.transmit, profile.gain_dbi);
  end.gain_dbi = profile.gain_dbi;
  if (const auto* noise = std::get_if<ReceiverNoise>(&profile.sensitivity)) {
    end.noise_figure_db = noise->noise_figure_db;
  }
  end.sensitivity = sensitivity_of(profile);
  end.mount_loss_db = profile.mount_loss_db;
  end.body_loss_db = profile.body_loss_db;
  return end;
}

RadioEnd radio_end(const Profile& profile, const Device& device) {
  RadioEnd end = radio_end(profile);
  if (!profile.two_way) end.sensitivity.reset();
  end.mount_loss_db = device.mount_loss_db.value_or(end.mount_loss_db);
  end.body_loss_db = device.body_loss_db.value_or(end.body_loss_db);
  return end;
}

}  // namespace linkmargin
