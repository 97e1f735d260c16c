#pragma once

/// The public headers of linkmargin, in the order of the flow: a file becomes a site, a site a scene, a scene
/// the links of its devices, and those a report.

#include "linkmargin/analysis/centimetres.hpp"
#include "linkmargin/analysis/coverage.hpp"
#include "linkmargin/analysis/link_table.hpp"
#include "linkmargin/analysis/reading_verdict.hpp"
#include "linkmargin/link/budget.hpp"
#include "linkmargin/link/path.hpp"
#include "linkmargin/link/path_loss.hpp"
#include "linkmargin/link/reliability.hpp"
#include "linkmargin/link/scene.hpp"
#include "linkmargin/report/check_report.hpp"
#include "linkmargin/report/coverage_map.hpp"
#include "linkmargin/report/coverage_report.hpp"
#include "linkmargin/report/explain_report.hpp"
#include "linkmargin/report/floor_plan.hpp"
#include "linkmargin/report/materials_report.hpp"
#include "linkmargin/site/edit.hpp"
#include "linkmargin/site/reading.hpp"
#include "linkmargin/site/site.hpp"
#include "linkmargin/yaml/readings_csv.hpp"
#include "linkmargin/yaml/site_edit.hpp"
#include "linkmargin/yaml/site_yaml.hpp"
#include "linkmargin/yaml/tables.hpp"
#include "linkmargin/yaml/text_file.hpp"
