#include "linkmargin/yaml/writer/node_value.hpp"

namespace linkmargin::yaml {

NewValue value_of(const Node& node) {
  switch (node.kind) {
    case Node::Kind::sequence: {
      NewValue list{NewValue::Kind::list};
      for (const Node& item : node.items) list.items.push_back(value_of(item));
      return list;
    }
    case Node::Kind::mapping: {
      NewValue map = map_value({});
      for (const Entry& entry : node.entries) map.entries.push_back({entry.key, value_of(entry.value)});
      return map;
    }
    case Node::Kind::scalar: {
      const bool plain = !node.quoted && node.text.find_first_of(",[]{}#:\n\"'") == std::string::npos;
      return plain ? literal_value(node.text) : name_value(node.text);
    }
    default:
      return literal_value("null");
  }
}

}  // namespace linkmargin::yaml
