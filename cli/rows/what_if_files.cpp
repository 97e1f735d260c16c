#include "rows/what_if_files.hpp"

#include "linkmargin/base/random.hpp"
#include "linkmargin/yaml/site/site_yaml.hpp"
#include "linkmargin/yaml/tree/text_file.hpp"
#include "linkmargin/yaml/what_if/what_if_yaml.hpp"

#include "support/failure.hpp"
#include "support/files_read.hpp"
#include "support/input.hpp"

#include <algorithm>
#include <filesystem>
#include <glob.h>
#include <utility>

namespace linkmargin::cli {
namespace {

namespace fs = std::filesystem;

/// A hash of what came before and of one text more.
std::uint64_t hashed(std::uint64_t before, std::string_view text) {
  return RandomStream(before, named_stream(text)).bits(0);
}

/// The files that a pattern matches, by name; itself where it is no pattern.
std::vector<std::string> matches(const std::string& pattern) {
  if (pattern.find_first_of("*?[") == std::string::npos) return {pattern};
  glob_t found{};
  std::vector<std::string> files;
  if (::glob(pattern.c_str(), 0, nullptr, &found) == 0)
    files.assign(found.gl_pathv, found.gl_pathv + found.gl_pathc);
  ::globfree(&found);
  return files;
}

std::string at_text(const std::string& file, const SitePattern& pattern, std::string message) {
  Diagnostic fault;
  fault.file = file;
  fault.line = pattern.line;
  fault.column = pattern.column;
  fault.message = std::move(message);
  return to_text(fault);
}

/// What is wrong with the site files, gathered.
struct SiteFaults {
  std::vector<std::string> lines;
  ExitStatus status = kBadInput;

  void raise() const {
    if (!lines.empty()) throw Failure(status, lines);
  }
};

struct SiteName {
  std::string shown;  ///< as the what-if file has it
  std::string file;
  const SitePattern* pattern;
};

std::vector<SiteName> site_names(const std::vector<SitePattern>& patterns, const fs::path& folder,
                                 const std::string& what_if_file, SiteFaults& faults) {
  std::vector<SiteName> names;
  for (const SitePattern& pattern : patterns) {
    const std::vector<std::string> files = matches((folder / pattern.text).string());
    if (files.empty())
      faults.lines.push_back(at_text(what_if_file, pattern, "no file matches '" + pattern.text + "'"));
    for (const std::string& file : files) {
      const bool known = std::ranges::find(names, file, &SiteName::file) != names.end();
      const std::string shown = folder.empty() || fs::path(pattern.text).is_absolute()
                                    ? file
                                    : file.substr((folder / "").string().size());
      if (!known) names.push_back({shown, file, &pattern});
    }
  }
  if (static_cast<double>(names.size()) > kWhatIfSites.max)
    faults.lines.push_back("linkmargin: " + what_if_file + " names more than 10000 sites");
  return names;
}

}  // namespace

WhatIfFiles read_what_if(const Arguments& arguments) {
  check_standard_input(arguments);
  const std::string& file = arguments.names.front();
  const std::string shown = shown_name(file);
  const Tables tables = read_tables(arguments);
  const std::string text = read_text(file);
  WhatIfFiles files{{}, hashed(0, text)};
  if (const auto materials = arguments.value("materials"); materials && *materials != "-")
    files.texts = hashed(files.texts, read_text(*materials));
  const auto patterns = parse_what_if_sites(text, shown);
  if (!patterns) refuse(patterns.error(), file);
  SiteFaults faults;
  std::vector<NamedSite> sites;
  for (const SiteName& name : site_names(*patterns, fs::path(file).parent_path(), shown, faults)) {
    note_read(name.file, name.shown);
    const auto site_text = read_text_file(name.file);
    if (!site_text) {
      faults.status = kNoAccess;
      faults.lines.push_back(at_text(shown, *name.pattern, to_text(site_text.error().front())));
      continue;
    }
    auto site = parse_site(*site_text, name.file, tables);
    if (site) sites.push_back({name.shown, std::move(*site)});
    if (!site) std::ranges::transform(site.error(), std::back_inserter(faults.lines), to_text);
    files.texts = hashed(hashed(files.texts, name.shown), *site_text);
  }
  if (sites.empty()) faults.raise();
  auto what_if = parse_what_if(text, shown, sites);
  if (!what_if && faults.lines.empty()) refuse(what_if.error(), file);
  if (!what_if) std::ranges::transform(what_if.error(), std::back_inserter(faults.lines), to_text);
  faults.raise();
  files.what_if = std::move(*what_if);
  return files;
}

std::uint64_t fingerprint(const WhatIfFiles& files, std::span<const std::string> options) {
  std::uint64_t hash = hashed(files.texts, LINKMARGIN_VERSION);
  for (const std::string& option : options) hash = hashed(hash, option);
  return hash;
}

}  // namespace linkmargin::cli
