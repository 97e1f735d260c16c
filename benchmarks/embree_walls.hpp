#pragma once

#include "linkmargin/geometry/segment.hpp"

#include <cstdint>
#include <embree3/rtcore.h>
#include <span>
#include <xmmintrin.h>

namespace linkmargin {

/// Embree over upright walls one metre high, half of it under the plane of the rays: every hit of a ray is
/// handed to visit(position). Each wall is a quadrilateral; the filter takes a hit and lets the ray go on.
class EmbreeWalls {
 public:
  explicit EmbreeWalls(std::span<const Segment2> walls) {
    _MM_SET_FLUSH_ZERO_MODE(_MM_FLUSH_ZERO_ON);  // as its manual asks
    device_ = rtcNewDevice("threads=1");
    scene_ = rtcNewScene(device_);
    rtcSetSceneFlags(scene_, RTC_SCENE_FLAG_CONTEXT_FILTER_FUNCTION);
    // Not the highest quality: that splits walls, and hands a hit over once for every part.
    rtcSetSceneBuildQuality(scene_, RTC_BUILD_QUALITY_MEDIUM);
    RTCGeometry geometry = rtcNewGeometry(device_, RTC_GEOMETRY_TYPE_QUAD);
    auto* corner = static_cast<float*>(rtcSetNewGeometryBuffer(
        geometry, RTC_BUFFER_TYPE_VERTEX, 0, RTC_FORMAT_FLOAT3, 3 * sizeof(float), 4 * walls.size()));
    auto* index = static_cast<std::uint32_t*>(rtcSetNewGeometryBuffer(
        geometry, RTC_BUFFER_TYPE_INDEX, 0, RTC_FORMAT_UINT4, 4 * sizeof(std::uint32_t), walls.size()));
    for (const Segment2 wall : walls) {
      for (const auto& [p, z] : {std::pair(wall.a, -0.3F), {wall.b, -0.3F}, {wall.b, 0.7F}, {wall.a, 0.7F}}) {
        *corner++ = static_cast<float>(p.x);
        *corner++ = static_cast<float>(p.y);
        *corner++ = z;
      }
    }
    for (std::uint32_t i = 0; i < 4 * walls.size(); ++i) *index++ = i;
    rtcCommitGeometry(geometry);
    rtcAttachGeometry(scene_, geometry);
    rtcReleaseGeometry(geometry);
    rtcCommitScene(scene_);
  }
  EmbreeWalls(const EmbreeWalls&) = delete;
  EmbreeWalls& operator=(const EmbreeWalls&) = delete;
  ~EmbreeWalls() {
    rtcReleaseScene(scene_);
    rtcReleaseDevice(device_);
  }

  template <typename Visit>
  void all_hits(Point2 from, Point2 to, Visit& visit) const {
    struct Context {
      RTCIntersectContext context;
      Visit* visit;
    } context{};
    rtcInitIntersectContext(&context.context);
    context.visit = &visit;
    context.context.filter = [](const RTCFilterFunctionNArguments* arguments) {
      arguments->valid[0] = 0;  // the ray goes on
      (*reinterpret_cast<Context*>(arguments->context)->visit)(RTCHitN_primID(arguments->hit, 1, 0));
    };
    RTCRay ray{};
    ray.org_x = static_cast<float>(from.x);
    ray.org_y = static_cast<float>(from.y);
    ray.dir_x = static_cast<float>(to.x - from.x);
    ray.dir_y = static_cast<float>(to.y - from.y);
    ray.tfar = 1;
    ray.mask = 0xFFFFFFFF;
    rtcOccluded1(scene_, &context.context, &ray);
  }

 private:
  RTCDevice device_;
  RTCScene scene_;
};

}  // namespace linkmargin
