#pragma once

#include <algorithm>
#include <string>
#include <string_view>

namespace linkmargin {

/// A key of the site file that was given a better name, or that another took the place of.
struct RenamedKey {
  std::string_view old_name;
  std::string_view name;
  std::string_view hint = {};  ///< where the new key means something else
};

inline constexpr RenamedKey kRenamedKeys[] = {
    {"routes", "diffraction"},
    {"echoes", "reverberation"},
    {"near_mains_m", "cable_m",
     "list the `sockets` of the room, and give `cable_m` for the reach from them"}};

/// What an old key is called now; empty for any other.
constexpr std::string_view renamed_key(std::string_view key) {
  const auto* found = std::ranges::find(kRenamedKeys, key, &RenamedKey::old_name);
  return found == std::end(kRenamedKeys) ? std::string_view() : found->name;
}

/// What to tell somebody who wrote an old key; empty for any other.
inline std::string renamed_hint(std::string_view key) {
  const auto* found = std::ranges::find(kRenamedKeys, key, &RenamedKey::old_name);
  if (found == std::end(kRenamedKeys)) return {};
  return found->hint.empty() ? "it is called '" + std::string(found->name) + "' now"
                             : std::string(found->hint);
}

}  // namespace linkmargin
