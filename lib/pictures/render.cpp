#include "pictures/render.hpp"

#include <algorithm>
#include <cairo-pdf.h>
#include <cairo.h>
#include <cmath>
#include <exception>
#include <gio/gio.h>
#include <librsvg/rsvg.h>
#include <memory>
#include <new>
#include <stdexcept>

namespace linkmargin::pictures {
namespace {

constexpr double kPixelsPerInch = 96;
constexpr double kPointsPerInch = 72;

struct Release {
  void operator()(RsvgHandle* handle) const { g_object_unref(handle); }
  void operator()(GInputStream* stream) const { g_object_unref(stream); }
  void operator()(GError* error) const { g_error_free(error); }
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* context) const { cairo_destroy(context); }
};

template <typename Object>
using Held = std::unique_ptr<Object, Release>;

[[noreturn]] void fail(GError* error) {
  const Held<GError> held(error);
  throw std::runtime_error(error != nullptr ? error->message : "the picture could not be drawn");
}

void check(cairo_status_t status) {
  if (status == CAIRO_STATUS_NO_MEMORY) throw std::bad_alloc();
  if (status != CAIRO_STATUS_SUCCESS) throw std::runtime_error(cairo_status_to_string(status));
}

/// Collects what Cairo writes; no exception may pass through it.
cairo_status_t collect(void* to, const unsigned char* bytes, unsigned count) {
  try {
    static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(bytes), count);
    return CAIRO_STATUS_SUCCESS;
  } catch (const std::exception&) {
    return CAIRO_STATUS_NO_MEMORY;
  }
}

/// The last row and column of pixels may reach beyond the drawing.
void cover_white(cairo_surface_t* surface) {
  const Held<cairo_t> context(cairo_create(surface));
  cairo_set_source_rgb(context.get(), 1, 1, 1);
  cairo_paint(context.get());
}

class Drawing {
 public:
  Drawing(const char* svg, std::size_t size) {
    GError* error = nullptr;
    const Held<GInputStream> stream(
        g_memory_input_stream_new_from_data(svg, static_cast<gssize>(size), nullptr));
    // Maps of large sites hold more than the parser takes without being told.
    handle_.reset(
        rsvg_handle_new_from_stream_sync(stream.get(), nullptr, RSVG_HANDLE_FLAG_UNLIMITED, nullptr, &error));
    if (!handle_) fail(error);
    rsvg_handle_set_dpi(handle_.get(), kPixelsPerInch);
    if (rsvg_handle_get_intrinsic_size_in_pixels(handle_.get(), &width_px_, &height_px_) == FALSE ||
        !(width_px_ > 0) || !(height_px_ > 0))
      throw std::runtime_error("the picture states no size in pixels");
  }

  std::string png(double scale) const {
    scale = std::min({scale, std::sqrt(kMostPixels / (width_px_ * height_px_)),
                      kMostSidePx / std::max(width_px_, height_px_)});
    const auto side = [scale](double px) { return static_cast<int>(std::max(1.0, std::round(scale * px))); };
    const Held<cairo_surface_t> surface(
        cairo_image_surface_create(CAIRO_FORMAT_RGB24, side(width_px_), side(height_px_)));
    cover_white(surface.get());
    draw(surface.get(), scale);
    std::string bytes;
    check(cairo_surface_write_to_png_stream(surface.get(), collect, &bytes));
    return bytes;
  }

  std::string pdf() const {
    constexpr double scale = kPointsPerInch / kPixelsPerInch;
    std::string bytes;
    const Held<cairo_surface_t> surface(
        cairo_pdf_surface_create_for_stream(collect, &bytes, scale * width_px_, scale * height_px_));
    cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, nullptr);
    draw(surface.get(), scale);
    cairo_surface_finish(surface.get());
    check(cairo_surface_status(surface.get()));
    return bytes;
  }

 private:
  void draw(cairo_surface_t* surface, double scale) const {
    check(cairo_surface_status(surface));
    const Held<cairo_t> context(cairo_create(surface));
    cairo_scale(context.get(), scale, scale);
    const RsvgRectangle place{0, 0, width_px_, height_px_};
    GError* error = nullptr;
    if (rsvg_handle_render_document(handle_.get(), context.get(), &place, &error) == FALSE) fail(error);
    check(cairo_status(context.get()));
  }

  Held<RsvgHandle> handle_;
  double width_px_ = 0;
  double height_px_ = 0;
};

}  // namespace
}  // namespace linkmargin::pictures

void linkmargin_render_1(const char* svg, std::size_t size, linkmargin::pictures::Format format, double scale,
                         linkmargin::pictures::Rendered& result) {
  using namespace linkmargin::pictures;
  try {
    const Drawing drawing(svg, size);
    result.bytes = format == Format::png ? drawing.png(scale) : drawing.pdf();
  } catch (const std::bad_alloc&) {
    result.fault = "there is not enough memory for it";
  } catch (const std::exception& error) {
    result.fault = error.what();
  }
}
