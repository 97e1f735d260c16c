#pragma once

#include <algorithm>
#include <string>
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

/// What to tell somebody who wrote an old key; empty for any other.
inline std::string renamed_hint(std::string_view key) {
  const std::string name(renamed_key(key));
  return name.empty() ? name : "it is called '" + name + "' now";
}

}  // namespace linkmargin
