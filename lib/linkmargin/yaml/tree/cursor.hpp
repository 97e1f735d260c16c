#pragma once

#include "linkmargin/yaml/tree/node.hpp"

#include <cstddef>
#include <string>
#include <string_view>

namespace linkmargin::yaml {

/// A node and the way to it, kept on the stack while the node is read. Its parent must outlive it.
class Cursor {
 public:
  explicit Cursor(const Node& root) : node_(&root) {}

  /// The value of a key; with no such key the value of Node() and the mark of the map.
  static Cursor at_key(const Cursor& parent, std::string_view key, const Node& value) {
    return Cursor(parent, key, 0, Step::key, value);
  }
  /// An item of a list; it goes by its `name` when it has one.
  static Cursor at_item(const Cursor& parent, std::size_t position, const Node& item) {
    return Cursor(parent, item_name(item), position, Step::item, item);
  }

  const Node& node() const { return *node_; }
  Mark mark() const { return node_->mark; }

  /// The key that leads here, seen through lists: what a message about this value begins with.
  std::string_view key() const;

  /// JSON Pointer.
  std::string pointer() const;
  std::string pointer_to(std::string_view key) const;

 private:
  enum class Step { root, key, item };
  Cursor(const Cursor& parent, std::string_view name, std::size_t position, Step step, const Node& node)
      : node_(&node), parent_(&parent), name_(name), position_(position), step_(step) {}

  const Node* node_;
  const Cursor* parent_ = nullptr;
  std::string_view name_;
  std::size_t position_ = 0;
  Step step_ = Step::root;
};

}  // namespace linkmargin::yaml
