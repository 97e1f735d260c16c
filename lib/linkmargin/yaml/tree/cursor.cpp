#include "linkmargin/yaml/tree/cursor.hpp"

#include "linkmargin/base/diagnostic.hpp"

namespace linkmargin::yaml {

std::string_view Cursor::key() const {
  const Cursor* cursor = this;
  while (cursor->step_ == Step::item) cursor = cursor->parent_;
  return cursor->name_;
}

std::string Cursor::pointer() const {
  if (step_ == Step::root) return {};
  const bool by_position = step_ == Step::item && name_.empty();
  return by_position ? parent_->pointer_to(std::to_string(position_)) : parent_->pointer_to(name_);
}

std::string Cursor::pointer_to(std::string_view key) const {
  return pointer() + "/" + pointer_token(std::string(key));
}

}  // namespace linkmargin::yaml
