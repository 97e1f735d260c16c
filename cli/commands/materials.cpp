#include "linkmargin/base/units.hpp"
#include "linkmargin/report/document/write_csv.hpp"
#include "linkmargin/report/materials_report.hpp"

#include "output/output.hpp"
#include "output/output_format.hpp"
#include "support/command.hpp"
#include "support/input.hpp"
#include "support/language.hpp"

namespace linkmargin::cli {
namespace {

void require_known(const MaterialTable& table, const std::string& name) {
  if (name.empty() || table.contains(name)) return;
  std::vector<std::string> known;
  for (const auto& [key, material] : table) known.push_back(key);
  unknown_name("material", name, known);
}

ExitStatus run_materials(const Arguments& arguments) {
  const Format format = output_format(arguments);
  (void)data_language(arguments);  // a wrong one is refused in every format
  const MaterialsOptions options{.frequency_hz = hz_from_mhz(arguments.frequency_mhz())};
  const MaterialTable table = read_tables(arguments).materials;
  const std::string name = arguments.name_from(0);
  require_known(table, name);
  if (format == Format::csv) {
    write_answer(arguments, write_csv(materials_rows(table, options, name), csv_style(arguments)));
  } else if (format == Format::json) {
    write_answer(arguments, materials_json(data_language(arguments), table, options, name));
  } else {
    const Language& language = language_of(arguments);
    const Document document = name.empty() ? materials_document(language, table, options)
                                           : material_document(language, table, name, options);
    write_answer(arguments, write_text(document, text_style(arguments)));
  }
  return kDone;
}

}  // namespace

const Command& materials_command() {
  static const Command command{
      .name = "materials",
      .summary = "lists the materials: loss, spread, frequency, source",
      .usage = "materials [MATERIAL] [options]",
      .details =
          "Lists the materials that a site file may name, with the loss straight through, its spread and its "
          "source. With MATERIAL it shows one of them in detail.",
      .options = {kFormat,
                  kOutput,
                  kCsvStyle,
                  kPrecise,
                  {"frequency-mhz", "F", "frequency of the losses in MHz; default: 868.3"},
                  kMaterials,
                  kLanguage,
                  kHelp},
      .examples = {"linkmargin materials", "the whole table", "linkmargin materials brick",
                   "one of them in detail", "linkmargin materials --frequency-mhz 433.92 --format csv",
                   "at another frequency, for a spreadsheet"},
      .least_names = 0,
      .most_names = kAnyCount,
      .run = run_materials};
  return command;
}

}  // namespace linkmargin::cli
