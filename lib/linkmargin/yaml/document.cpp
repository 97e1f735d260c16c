#include "linkmargin/yaml/document.hpp"

#include "linkmargin/yaml/parse_tree.hpp"
#include "linkmargin/yaml/text_guard.hpp"

namespace linkmargin::yaml {

std::optional<Node> parse_document(std::string_view bytes, Faults& faults) {
  const auto text = guarded_text(bytes, faults);
  if (!text) return {};
  auto root = parse_tree(*text, faults);
  if (!root) return {};
  if (root->kind != Node::Kind::nothing) return root;
  if (faults.empty()) faults.add({1, 1}, "", "the file holds nothing but comments");
  return {};
}

}  // namespace linkmargin::yaml
