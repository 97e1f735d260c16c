#pragma once

#include "linkmargin/prediction/serving/device_link.hpp"

namespace linkmargin {

/// The first hop of a way that is predicted to be weak by itself; the device's own where none is.
inline const Link& first_weak_hop(const Link& link) {
  for (const Link* hop = &link; hop != nullptr; hop = hop->onward.get()) {
    if (hop->own_hop_weak) return *hop;
  }
  return link;
}

/// Whether only a hop farther on than the device's own is weak.
inline bool is_weak_farther_on(const Link& link) {
  return link.weak && !link.own_hop_weak;
}

}  // namespace linkmargin
