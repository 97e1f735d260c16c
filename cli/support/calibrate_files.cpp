#include "support/calibrate_files.hpp"

#include "linkmargin/site/calibration.hpp"
#include "linkmargin/yaml/writer/site_edit.hpp"

#include "output/output_format.hpp"
#include "output/picture.hpp"
#include "support/failure.hpp"

#include <filesystem>
#include <system_error>

namespace linkmargin::cli {
namespace {

namespace fs = std::filesystem;

void check_pairs(const std::vector<std::string>& names) {
  if (names.size() % 2 != 0) {
    throw Failure(kBadInput, {"linkmargin: SITE and READINGS go in pairs: '" + names.back() +
                                  "' has no READINGS after it",
                              "usage: linkmargin calibrate SITE READINGS [SITE READINGS]... [options]"});
  }
  for (std::size_t i = 0; i < names.size(); i += 2) {
    for (std::size_t j = 0; j < i; j += 2) {
      std::error_code ignored;
      if (fs::equivalent(names[i], names[j], ignored))
        throw Failure(kBadInput, "'" + names[i] + "' is given twice: put its readings into one file");
    }
  }
}

/// What a site file is named in a folder.
std::string name_in(const std::string& folder, const std::string& site) {
  if (site == kStandardInput)
    throw Failure(kBadInput, "a site from the standard input has no name in the folder '" + folder + "'");
  return (fs::path(folder) / fs::path(site).filename()).string();
}

std::vector<FileOut> sites_out(const Arguments& arguments) {
  const auto output = arguments.value("output");
  if (!output) return {};
  std::error_code ignored;
  const bool folder = fs::is_directory(*output, ignored);
  if (!folder && arguments.names.size() > 2) {
    throw Failure(kBadInput, "--output takes a folder that is there when there are several sites, not '" +
                                 *output + "'");
  }
  if (!folder) {
    const std::string ending = ending_of(*output);
    if (ending == ".csv" || ending == ".json")
      throw Failure(kBadInput,
                    "--output of calibrate is the calibrated site, in YAML, but ends in '" + ending +
                        "': for the answer in another format take --format and the standard output");
    return {{"output", *output}};
  }
  std::vector<FileOut> files;
  for (std::size_t i = 0; i < arguments.names.size(); i += 2)
    files.push_back({"output", name_in(*output, arguments.names[i])});
  return files;
}

/// A site of the pairs; a table that stands in its place is told so.
SiteFile read_site_of_pair(const std::string& file, const Tables& tables) {
  try {
    return read_site_file(file, tables);
  } catch (Failure& failure) {
    const std::string ending = fs::path(file).extension().string();
    if (failure.status == kBadInput && (ending == ".csv" || ending == ".CSV"))
      failure.lines.push_back("each SITE comes before its READINGS: is '" + file + "' the readings?");
    throw;
  }
}

}  // namespace

CalibrationInput read_pairs(const Arguments& arguments) {
  check_pairs(arguments.names);
  check_standard_input(arguments);
  CalibrationInput input;
  input.tables = read_tables(arguments);
  for (std::size_t i = 0; i < arguments.names.size(); i += 2) {
    input.files.push_back(read_site_of_pair(arguments.names[i], input.tables));
    const Site& site = input.files.back().site;
    const std::string& file = arguments.names[i + 1];
    SiteReadings given = read_readings(file, site);
    for (Warning& warning : readings_warnings(file, given)) input.warnings.push_back(std::move(warning));
    input.jobs.push_back({site, std::move(given.readings)});
  }
  return input;
}

CalibrationOutput planned_output(const Arguments& arguments) {
  CalibrationOutput output;
  output.sites = sites_out(arguments);
  std::vector<FileOut> all = output.sites;
  const auto other = [&](const char* option) -> std::optional<FileOut> {
    const auto file = arguments.value(option);
    if (!file) return {};
    all.push_back({option, *file});
    return all.back();
  };
  output.learned = other("learned");
  output.picture = other("picture");
  check_files_out(all, input_files(arguments));
  if (output.picture) {
    output.picture_format = ending_format("picture", output.picture->file, {"svg", "png", "pdf"}, "svg");
    require_picture(output.picture_format);
  }
  return output;
}

bool states_scale(const SiteFile& file) {
  const ReadingScale& scale = file.site.reading;
  const std::vector<Edit> as_it_is{{kZeroPointer, scale.zero.value}, {kFullPointer, scale.full.value}};
  const auto text = edited_text(file.text, file.name, as_it_is, file.tables);
  return !text || *text == file.text;  // an edit that finds its value there changes nothing
}

}  // namespace linkmargin::cli
