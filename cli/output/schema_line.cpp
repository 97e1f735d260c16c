#include "output/schema_line.hpp"

#include <filesystem>
#include <system_error>

namespace linkmargin::cli {
namespace {

constexpr const char* kSchemaFile = "site.schema.json";

std::string schema_place() {
  std::error_code error;
  const auto program = std::filesystem::read_symlink("/proc/self/exe", error);
  if (error) return kSchemaFile;
  const auto installed = program.parent_path().parent_path() / "share" / "linkmargin" / kSchemaFile;
  return std::filesystem::exists(installed, error) ? installed.string() : kSchemaFile;
}

}  // namespace

std::string with_schema_line(std::string text) {
  constexpr const char* kBegin = "# yaml-language-server: $schema=";
  if (text.find(kBegin) != std::string::npos) return text;
  return kBegin + schema_place() + "\n" + text;
}

}  // namespace linkmargin::cli
