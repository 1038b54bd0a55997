// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewport/vtk_host.h"

#include <QImage>
#include <QWidget>
#include <functional>
#include <memory>

namespace touchmark::viewport {

/// The widget that shows what a VtkHost draws.
class Surface {
public:
    virtual ~Surface() = default;
    [[nodiscard]] virtual QWidget& widget() = 0;
    [[nodiscard]] virtual VtkHost& host() = 0;
    /// The picture is out of date; drawn again with the next frame.
    virtual void refresh() = 0;
    /// Draws now; physical pixels.
    [[nodiscard]] virtual QImage grab() = 0;
    /// False: this machine cannot draw here; the widget says so.
    [[nodiscard]] virtual bool works() const = 0;

    std::function<void()> before_frame; ///< bring the scene up to date
    std::function<void(double ms)> after_frame;
};

/// OpenGL composed by Qt's windows where there are any, else drawn without a window. TOUCHMARK_VIEWPORT=gl|raster
/// decides otherwise.
[[nodiscard]] std::unique_ptr<Surface> make_surface(QWidget* parent);
[[nodiscard]] std::unique_ptr<Surface> make_gl_surface(QWidget* parent);
[[nodiscard]] std::unique_ptr<Surface> make_raster_surface(QWidget* parent);

} // namespace touchmark::viewport
