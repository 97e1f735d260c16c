#include "linkmargin/yaml/node.hpp"

#include "linkmargin/site/building.hpp"

#include <charconv>
#include <cstddef>

namespace linkmargin::yaml {
namespace {

std::string unescaped(std::string_view token) {
  std::string name;
  for (std::size_t i = 0; i < token.size(); ++i) {
    const bool escape = token[i] == '~' && i + 1 < token.size();
    if (escape && token[i + 1] == '0') {
      name += '~';
      ++i;
    } else if (escape && token[i + 1] == '1') {
      name += '/';
      ++i;
    } else {
      name += token[i];
    }
  }
  return name;
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

Mark locate(const Node& root, std::string_view pointer) {
  const Node* node = &root;
  bool room_pair = false;
  while (!pointer.empty() && pointer.front() == '/') {
    pointer.remove_prefix(1);
    const std::size_t end = pointer.find('/');
    const std::string token = unescaped(pointer.substr(0, end));
    const Node* next =
        node->kind == Node::Kind::sequence ? item_at(*node, token, room_pair) : find(*node, token);
    if (next == nullptr) break;
    node = next;
    room_pair = token == "between";
    pointer = end == std::string_view::npos ? std::string_view() : pointer.substr(end);
  }
  return node->mark;
}

}  // namespace linkmargin::yaml
