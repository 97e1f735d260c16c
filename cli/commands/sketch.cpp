#include "output/output.hpp"
#include "support/command.hpp"
#include "support/failure.hpp"
#include "support/input.hpp"

#include <array>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>

namespace linkmargin::cli {
namespace {

namespace fs = std::filesystem;

constexpr const char* kPage = "linkmargin.html";
constexpr std::size_t kMostPageBytes = 16U << 20U;
constexpr std::string_view kPlaceOfSite = R"(<template id="given">)";

/// Where `sh cli/sketch/build` puts the page, seen from the program: beside the build folders, or where it is
/// installed.
std::optional<fs::path> page_file() {
  std::error_code error;
  const fs::path program = fs::read_symlink("/proc/self/exe", error);
  if (error) return {};
  const fs::path folder = program.parent_path();
  const std::array places{folder.parent_path().parent_path() / kPage,
                          folder.parent_path() / "share" / "linkmargin" / kPage};
  for (const fs::path& place : places) {
    if (fs::is_regular_file(place, error)) return place;
  }
  return {};
}

std::string escaped_text(std::string_view text) {
  std::string escaped;
  for (const char letter : text) {
    switch (letter) {
      case '&':
        escaped += "&amp;";
        break;
      case '<':
        escaped += "&lt;";
        break;
      case '\r':
        escaped += "&#13;";  // a page reads a plain one as a line's end
        break;
      default:
        escaped += letter;
    }
  }
  return escaped;
}

ExitStatus run_sketch(const Arguments& arguments) {
  std::string site;
  if (!arguments.names.empty()) site = read_site_file(arguments).text;
  const auto file = page_file();
  if (!file)
    throw Failure(
        kNoAccess,
        "this program was built without the sketch page: `sh cli/sketch/build` in the folder of its "
        "sources makes it");
  std::string made = read_text(file->string(), kMostPageBytes);
  const std::size_t place = made.find(kPlaceOfSite);
  if (place == std::string::npos) throw Failure(kNoAccess, file->string() + " is no sketch page");
  made.insert(place + kPlaceOfSite.size(), escaped_text(site));
  write_answer(arguments, made);
  return kDone;
}

}  // namespace

const Command& sketch_command() {
  static const Command command{
      .name = "sketch",
      .summary = "writes a page for the browser: draw the building, drag hub and devices, see the readings",
      .usage = "sketch [SITE] [--output FILE]",
      .details =
          "Writes one HTML file in which a building is drawn and every reading follows while hub and devices "
          "are dragged. It opens in any browser of the last years, needs no network and sends nothing. It "
          "opens and saves the site files that all commands read; with SITE it opens with that site. Figures "
          "are those of `check`, `coverage`, `explain` and `place`.",
      .options = {kOutput, kHelp},
      .examples = {"linkmargin sketch --output linkmargin.html", "a page to draw in",
                   "linkmargin sketch site.yaml --output site.html", "the same with a site in it"},
      .least_names = 0,
      .most_names = 1,
      .names_are_files = true,
      .run = run_sketch};
  return command;
}

}  // namespace linkmargin::cli
