#include "linkmargin/analysis/calibration/learned_materials.hpp"

#include "fixtures/calibration_fixture.hpp"

#include <doctest/doctest.h>

#include <cmath>

using namespace linkmargin;

namespace {

using fixture::parameter;

struct Case {
  std::vector<CalibrationJob> jobs{fixture::calibration_job()};
  CalibrationReport report = fixture::calibration_report(jobs.front());
  MaterialTable known = fixture::materials();
  MaterialTable common = fixture::materials();

  LearnedMaterials learned() const { return learned_materials(jobs, report, known, common); }
};

}  // namespace

TEST_CASE("the material of a shift, by its pointer") {
  for (const char* name : {"brick", "a/b", "~1", ""}) CHECK(shifted_material(shift_pointer(name)) == name);
  for (const char* other : {"", "/radio/exponent", "/calibration/offset_db", "/calibration/materials/brick",
                            "/calibration/materials/brick/sigma_db", "/a/b/c/d", "no pointer"})
    CHECK(!shifted_material(other));
}

TEST_CASE("what was told of the table's materials, and nothing else") {
  const LearnedMaterials learned = Case().learned();
  CHECK(learned.shifts == std::map<std::string, LearnedShift>{{"brick", {2.1, 0.9, 5}}});
  CHECK(learned.own.empty());
}

TEST_CASE("a material of the site's own, or of another make in the common table, is named instead") {
  Case own;
  own.common.erase("brick");
  CHECK(own.learned().shifts.empty());
  CHECK(own.learned().own == std::vector<std::string>{"brick"});
  own.common = own.known;
  own.common.at("brick").sigma_db += 1;
  CHECK(own.learned().own == std::vector<std::string>{"brick"});
}

TEST_CASE("what was known before stays where nothing new is told, and counts where it is") {
  Case before;
  before.known.at("steel").learned = LearnedShift{-1.5, 2, 7};
  before.known.at("brick").learned = LearnedShift{1, 1.5, 7};
  before.jobs[0].site.materials = before.known;
  CHECK(before.learned().shifts ==
        std::map<std::string, LearnedShift>{{"brick", {2.1, 0.9, 12}}, {"steel", {-1.5, 2, 7}}});
  before.common.erase("steel");
  CHECK(before.learned().shifts.size() == 1);
  CHECK(before.learned().own == std::vector<std::string>{"steel"});
}

TEST_CASE("of two ways in which a material was told, the surest; readings by the sites that it was told at") {
  Case two;
  two.jobs.push_back(fixture::calibration_job("Other yard"));
  two.jobs[1].readings.resize(2);
  two.report.parameters.push_back(parameter(shift_pointer("brick"), 1, 1.8, 1.23456, 0.5, {1}));
  CHECK(two.learned().shifts.at("brick") == LearnedShift{1.235, 0.5, 2});
  two.report.parameters.back() = parameter(shift_pointer("brick"), 1, 1.8, 1.25, 1, {1});
  CHECK(two.learned().shifts.at("brick") == LearnedShift{2.1, 0.9, 5});
  two.report.parameters[2].jobs = {0, 1};
  CHECK(two.learned().shifts.at("brick") == LearnedShift{2.1, 0.9, 7});
}

TEST_CASE("no zero below zero") {
  Case zero;
  zero.report.parameters[2].value = -0.0001;
  CHECK(!std::signbit(zero.learned().shifts.at("brick").shift_db));
}
