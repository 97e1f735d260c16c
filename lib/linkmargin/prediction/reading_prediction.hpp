#pragma once

#include "linkmargin/link/building/building.hpp"
#include "linkmargin/link/fading_model.hpp"
#include "linkmargin/prediction/spot_reading.hpp"
#include "linkmargin/site/reading.hpp"
#include "linkmargin/site/site.hpp"

#include <vector>

namespace linkmargin {

class Scene;

/// One prediction that readings are compared with; several readings may share it.
struct AskedLink {
  std::size_t device = 0;  ///< position in Site::devices, then in Site::repeaters
  Placement place;
  std::size_t station = 0;  ///< what hears it: position in Site::hubs, then in Site::repeaters
  Doors doors = Doors::armed;
};

/// @param station  AskedLink::station
const std::string& station_name(const Site& site, std::size_t station);

struct PredictedReading {
  double level_dbm = 0;      ///< of the direction that reads lower, mean of many spots in decibels
  double spot_mean_db = 0;   ///< in it: what the mean of many spots in decibels lies over the local mean
  double floor_dbm = 0;      ///< what its receiver hears at the least
  double local_db = 0;       ///< deviation of the local mean
  double sigma_db = 0;       ///< the same with what the site's parameters leave open
  double model_db = 0;       ///< the model's own part in it
  double spot_db = 0;        ///< of one reading about the local mean
  bool closed_leaf = false;  ///< a leaf that opens was passed, closed
  Point3 device;
  Point3 hub;
};

/// The readings of one job as links, each link once.
struct ReadingLinks {
  std::vector<AskedLink> links;
  std::vector<std::size_t> of_reading;  ///< position in links, for each reading
};

/// A scene that is made already.
struct KnownScene {
  const Scene* scene = nullptr;  ///< of the site; null: none is
  Doors doors = Doors::armed;    ///< with which it was made
};

/// A reading that names no hub is of the one that serves its device.
/// @throws DomainError when a device or hub is none of the site's
ReadingLinks reading_links(const Site& site, const std::vector<Reading>& readings, Doors doors,
                           const KnownScene& known = {});

std::vector<PredictedReading> predict_readings(const Site& site, const std::vector<AskedLink>& links,
                                               int threads, const KnownScene& known = {});

/// A reading in percent by read_level(), a level as it is; what was not heard lies under the floor, whatever
/// the scale.
/// @param floor_dbm  see PredictedReading
ReadLevel level_of(const Reading& reading, const ReadingScale& scale, double floor_dbm);

/// Deviation of one reading about the local mean. @param k_db  kRicianKDb
double spot_sigma_db(double k_db);

}  // namespace linkmargin
