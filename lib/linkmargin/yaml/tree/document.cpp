#include "linkmargin/yaml/tree/document.hpp"

#include "linkmargin/text/text_decoding.hpp"
#include "linkmargin/yaml/tree/parse_tree.hpp"

namespace linkmargin::yaml {

std::optional<Node> parse_document(std::string_view bytes, Faults& faults) {
  const auto text = decoded_text(bytes, faults);
  if (!text) return {};
  auto root = parse_tree(*text, faults);
  if (!root) return {};
  if (root->kind != Node::Kind::nothing) return root;
  if (faults.empty())
    faults.add({1, 1}, DiagnosticCode::missing_key, "", "the file holds nothing but comments");
  return {};
}

}  // namespace linkmargin::yaml
