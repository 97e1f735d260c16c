#include "support/site_pages.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "output/output_place.hpp"
#include "support/input.hpp"

#include <cerrno>
#include <filesystem>
#include <system_error>
#include <utility>

namespace linkmargin::cli {
namespace {

namespace fs = std::filesystem;

std::string named_folder(const Arguments& arguments) {
  const std::string folder = arguments.value("output").value_or(kStandardOutput);
  if (folder == kStandardOutput || folder.empty())
    throw Failure(kBadInput, "the pages of several sites go into a folder: name it, --output FOLDER");
  std::error_code ignored;
  if (ending_of(folder) == ".html" && !fs::is_directory(folder, ignored)) {
    throw Failure(kBadInput,
                  "--output takes a folder where there are several sites, not a page, '" + folder + "'");
  }
  return folder;
}

}  // namespace

FileOut SitePages::file(const std::string& name) const {
  return {"output", (fs::path(folder) / name).string()};
}

SitePages planned_pages(const Arguments& arguments) {
  SitePages pages{.folder = named_folder(arguments), .names = {}};
  std::vector<std::string> files;
  for (const std::string& name : arguments.names) files.push_back(shown_name(name));
  pages.names = page_names(files);
  std::vector<FileOut> all{pages.file(kIndexPage)};
  for (const std::string& name : pages.names) all.push_back(pages.file(name));
  check_files_out(all, input_files(arguments));
  return pages;
}

void make_folder(const std::string& folder) {
  std::error_code error;
  fs::create_directories(folder, error);
  std::error_code ignored;
  if (!error && !fs::is_directory(folder, ignored)) error = std::make_error_code(std::errc::not_a_directory);
  if (error) fail_to_write(folder, error.value());
}

std::vector<PageSite> read_page_sites(const Arguments& arguments, const SitePages& pages) {
  check_standard_input(arguments);
  const Tables tables = read_tables(arguments);
  std::vector<PageSite> sites;
  for (std::size_t i = 0; i < arguments.names.size(); ++i) {
    const std::string& file = arguments.names[i];
    sites.push_back({.row = {.file = shown_name(file), .page = pages.names[i]}});
    try {
      sites.back().site = read_site_file(file, tables).site;
    } catch (const Failure& failure) {
      leave_out(sites.back(), failure);
    }
  }
  return sites;
}

void leave_out(PageSite& site, const Failure& failure) {
  say_failure(failure);
  site.row.faults = failure.faults;
  site.site.reset();
}

}  // namespace linkmargin::cli
