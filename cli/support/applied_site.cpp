#include "support/applied_site.hpp"

#include "linkmargin/yaml/writer/site_edit.hpp"

#include <utility>

namespace linkmargin::cli {
namespace {

Warning written(const std::vector<Edit>& edits) {
  if (edits.empty()) return {.code = WarningCode::no_moves_written};
  std::vector<std::string> paths;
  for (const Edit& edit : edits) paths.push_back(edit.path);
  return {.code = WarningCode::moves_written,
          .arguments = {{"paths", NameList{.names = std::move(paths), .in_sentence = true}}}};
}

}  // namespace

std::string applied_site(const SiteFile& file, const std::vector<Edit>& edits,
                         std::vector<Warning>& warnings) {
  std::vector<std::string> as_figures;
  auto text = edited_text(file.text, file.name, edits, file.tables, &as_figures);
  if (!text) refuse(text.error(), file.name);
  if (!as_figures.empty()) warnings.insert(warnings.begin(), written_as_figures(std::move(as_figures)));
  warnings.insert(warnings.begin(), written(edits));
  return std::move(*text);
}

}  // namespace linkmargin::cli
