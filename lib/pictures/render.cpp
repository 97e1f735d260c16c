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
#include <string>

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
  explicit Drawing(const std::string& svg) {
    GError* error = nullptr;
    const Held<GInputStream> stream(
        g_memory_input_stream_new_from_data(svg.data(), static_cast<gssize>(svg.size()), nullptr));
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

  double width_px() const { return width_px_; }
  double height_px() const { return height_px_; }

  void draw(cairo_surface_t* surface, double scale) const {
    check(cairo_surface_status(surface));
    const Held<cairo_t> context(cairo_create(surface));
    cairo_scale(context.get(), scale, scale);
    const RsvgRectangle place{0, 0, width_px_, height_px_};
    GError* error = nullptr;
    if (rsvg_handle_render_document(handle_.get(), context.get(), &place, &error) == FALSE) fail(error);
    check(cairo_status(context.get()));
  }

 private:
  Held<RsvgHandle> handle_;
  double width_px_ = 0;
  double height_px_ = 0;
};

std::string pdf(const Request& request) {
  constexpr double scale = kPointsPerInch / kPixelsPerInch;
  std::string bytes;
  Held<cairo_surface_t> surface;
  for (const std::string& page : request.pages) {
    const Drawing drawing(page);
    const double width = scale * drawing.width_px(), height = scale * drawing.height_px();
    if (surface) {
      cairo_pdf_surface_set_size(surface.get(), width, height);
    } else {
      surface.reset(cairo_pdf_surface_create_for_stream(collect, &bytes, width, height));
      cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, nullptr);
      if (!request.title.empty())
        cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE,
                                       std::string(request.title).c_str());
    }
    drawing.draw(surface.get(), scale);
    cairo_surface_show_page(surface.get());
  }
  cairo_surface_finish(surface.get());
  check(cairo_surface_status(surface.get()));
  return bytes;
}

}  // namespace
}  // namespace linkmargin::pictures

void linkmargin_render_2(const linkmargin::pictures::Request& request,
                         linkmargin::pictures::Rendered& result) {
  using namespace linkmargin::pictures;
  try {
    if (request.pages.empty()) throw std::runtime_error("there is no page");
    result.bytes =
        request.format == Format::png ? Drawing(request.pages.front()).png(request.scale) : pdf(request);
  } catch (const std::bad_alloc&) {
    result.fault = "there is not enough memory for it";
  } catch (const std::exception& error) {
    result.fault = error.what();
  }
}
