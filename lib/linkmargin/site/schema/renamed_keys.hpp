#pragma once

#include <algorithm>
#include <string_view>

namespace linkmargin {

/// A key of the site file that was given a better name.
struct RenamedKey {
  std::string_view old_name;
  std::string_view name;
};

inline constexpr RenamedKey kRenamedKeys[] = {{"routes", "diffraction"}, {"echoes", "reverberation"}};

/// What an old key is called now; empty for any other.
constexpr std::string_view renamed_key(std::string_view key) {
  const auto* found = std::ranges::find(kRenamedKeys, key, &RenamedKey::old_name);
  return found == std::end(kRenamedKeys) ? std::string_view() : found->name;
}

}  // namespace linkmargin
