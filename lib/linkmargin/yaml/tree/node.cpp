#include "linkmargin/yaml/tree/node.hpp"

#include "linkmargin/base/diagnostic.hpp"
#include "linkmargin/site/building.hpp"

#include <algorithm>
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

const Node* item_at_position(const Node& list, std::string_view token, bool flipped = false) {
  std::size_t position = 0;
  const auto end = std::from_chars(token.data(), token.data() + token.size(), position);
  if (end.ec != std::errc() || end.ptr != token.data() + token.size()) return nullptr;
  if (flipped && position < 2) position = 1 - position;
  return position < list.items.size() ? &list.items[position] : nullptr;
}

const Node* item_at(const Node& list, std::string_view token, bool room_pair) {
  for (const Node& item : list.items) {
    if (!item_name(item).empty() && item_name(item) == token) return &item;
  }
  const bool flipped =
      room_pair && list.items.size() == 2 && list.items[0].text == kOutside && list.items[1].text != kOutside;
  return item_at_position(list, token, flipped);
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

const Node* Locator::step(const Node& node, std::string_view name, std::string_view parent) {
  constexpr std::size_t few = 64;
  if (std::max(node.items.size(), node.entries.size()) <= few) return child(node, name, parent);
  auto [names, fresh] = large_.try_emplace(&node);
  if (fresh) {
    for (const Entry& entry : node.entries) names->second.emplace(entry.key, &entry.value);
    for (const Node& item : node.items) {
      if (!item_name(item).empty()) names->second.emplace(item_name(item), &item);
    }
  }
  const auto found = names->second.find(name);
  if (found != names->second.end()) return found->second;
  if (node.kind != Node::Kind::sequence) return nullptr;
  const Node* boundary = parent == "boundaries" ? boundary_at(node, name) : nullptr;
  return boundary != nullptr ? boundary : item_at_position(node, name);
}

Mark Locator::locate(std::string_view pointer) {
  const Node* node = &root_;
  std::string_view parent;
  const auto names = pointer_names(pointer);
  if (!names) return root_.mark;
  for (const std::string& name : *names) {
    const Node* next = step(*node, name, parent);
    if (next == nullptr) break;
    node = next;
    parent = name;
  }
  return node->mark;
}

Mark locate(const Node& root, std::string_view pointer) {
  return Locator(root).locate(pointer);
}

}  // namespace linkmargin::yaml
