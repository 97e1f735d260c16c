#include "linkmargin/link/budget.hpp"

#include "linkmargin/propagation/noise.hpp"
#include "linkmargin/propagation/radiated_power.hpp"

#include <algorithm>

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

void follow_level(Direction& way, const ReadingScale& scale) {
  way.margin = way.level - (way.sensitivity + way.noise_rise);
  way.reading_percent = way.deaf() ? 0 : reading_percent(scale, way.level);
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

double reading_percent(const ReadingScale& scale, Dbm level) {
  return std::clamp(100 * (level - scale.zero).value / (scale.full - scale.zero).value, 0.0, 100.0);
}

Dbm threshold_level(const ReadingScale& scale) {
  return scale.zero + Db{scale.weak_below_percent / 100 * (scale.full - scale.zero).value};
}

Dbm needed_level(const ReadingScale& scale, const Direction& way) {
  return std::max(threshold_level(scale), way.sensitivity + way.noise_rise);
}

std::optional<Direction> direction(const RadioEnd& from, const RadioEnd& to, double path_loss_db,
                                   const ReadingScale& scale) {
  if (!from.eirp || !to.sensitivity) return {};
  Direction result;
  result.items = {{"transmitted (e.i.r.p.)", from.eirp->value}};
  const auto add = [&](const char* name, double value_db) {
    if (value_db != 0) result.items.push_back({name, value_db});
  };
  add("mounting at the transmitter", -from.mount_loss_db);
  add("metal at the transmitter", -from.metal_loss_db);
  add("body at the transmitter", -from.body_loss_db);
  add("path", -path_loss_db);
  add(kLearnedName, from.learned_offset_db + to.learned_offset_db);
  add("mounting at the receiver", -to.mount_loss_db);
  add("metal at the receiver", -to.metal_loss_db);
  add("body at the receiver", -to.body_loss_db);
  add("receive antenna", to.gain_dbi);
  for (const BudgetItem& item : result.items) result.level.value += item.value_db;
  result.sensitivity = *to.sensitivity;
  result.noise_rise = Db{to.noise_rise_db};
  follow_level(result, scale);
  return result;
}

void shift(Direction& way, const std::string& name, double value_db, const ReadingScale& scale) {
  if (value_db == 0) return;
  way.items.push_back({name, value_db});
  way.level.value += value_db;
  follow_level(way, scale);
}

}  // namespace linkmargin
