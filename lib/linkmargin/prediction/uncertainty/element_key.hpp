#pragma once

#include "linkmargin/link/building/loss_item.hpp"

#include <map>
#include <string>

namespace linkmargin {

/// Between the parts of a key: no name holds it.
inline constexpr char kKeySeparator = '\n';

/// What each item of one path is by itself, the same on every path that passes it: its part of the building,
/// its material, and how often such a one was passed before on the same path. No words for people, but a
/// change of them changes all that is drawn.
class ElementKeys {
 public:
  std::string next(const LossItem& item);

 private:
  std::map<std::string, int> passed_;
};

}  // namespace linkmargin
