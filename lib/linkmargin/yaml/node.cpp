#include "linkmargin/yaml/node.hpp"

#include "linkmargin/base/diagnostic.hpp"
#include "linkmargin/site/building.hpp"

#include <charconv>
#include <cstddef>

namespace linkmargin::yaml {
namespace {

/// Of a list of boundaries the one between two rooms, as in "shop and hall".
const Node* boundary_at(const Node& list, std::string_view both) {
  for (const Node& item : list.items) {
    const Node* pair = find(item, "between");
    if (pair == nullptr || pair->items.size() != 2) continue;
    const Boundary boundary{pair->items[0].text, pair->items[1].text, {}};
    if (boundary.goes_by(std::string(both))) return &item;
  }
  return nullptr;
}

const Node* item_at(const Node& list, std::string_view token, bool room_pair) {
  for (const Node& item : list.items) {
    if (!item_name(item).empty() && item_name(item) == token) return &item;
  }
  std::size_t position = 0;
  const auto end = std::from_chars(token.data(), token.data() + token.size(), position);
  if (end.ec != std::errc() || end.ptr != token.data() + token.size()) return nullptr;
  const bool flipped = room_pair && list.items.size() == 2 && position < 2 &&
                       list.items[0].text == kOutside && list.items[1].text != kOutside;
  if (flipped) position = 1 - position;
  return position < list.items.size() ? &list.items[position] : nullptr;
}

}  // namespace

const Node* find(const Node& node, std::string_view key) {
  for (const Entry& entry : node.entries) {
    if (entry.key == key) return &entry.value;
  }
  return nullptr;
}

std::string_view item_name(const Node& item) {
  const Node* name = find(item, "name");
  return name != nullptr && name->kind == Node::Kind::scalar ? std::string_view(name->text)
                                                             : std::string_view();
}

const Node* child(const Node& node, std::string_view name, std::string_view parent) {
  if (node.kind != Node::Kind::sequence) return find(node, name);
  const Node* boundary = parent == "boundaries" ? boundary_at(node, name) : nullptr;
  return boundary != nullptr ? boundary : item_at(node, name, parent == "between");
}

Mark locate(const Node& root, std::string_view pointer) {
  const Node* node = &root;
  std::string_view parent;
  const auto names = pointer_names(pointer);
  if (!names) return root.mark;
  for (const std::string& name : *names) {
    const Node* next = child(*node, name, parent);
    if (next == nullptr) break;
    node = next;
    parent = name;
  }
  return node->mark;
}

}  // namespace linkmargin::yaml
