#include "linkmargin/prediction/uncertainty/element_key.hpp"

namespace linkmargin {
namespace {

std::string part_key(const PartName& part) {
  switch (part.kind) {
    case PartKind::outer_wall:
      return "outer wall of " + part.first;
    case PartKind::wall_between:
      return "wall between " + part.first + " and " + part.second;
    case PartKind::floor:
      return "floor of " + part.first;
    case PartKind::roof:
      return "roof over " + part.first;
    default:
      return part.first;
  }
}

}  // namespace

std::string ElementKeys::next(const LossItem& item) {
  const std::string element = part_key(item.part) + kKeySeparator + item.material;
  return element + kKeySeparator + std::to_string(passed_[element]++);
}

}  // namespace linkmargin
