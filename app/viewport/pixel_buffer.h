// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewport/egl_context.h"
#include "app/viewport/vtk_host.h"

#include <QImage>
#include <memory>

namespace touchmark::viewport {

/// A VtkHost with a windowless context of its own, read back into an image. Needs no QApplication.
class PixelBuffer {
public:
    PixelBuffer();
    ~PixelBuffer();
    [[nodiscard]] bool works() const { return egl_ != nullptr; }
    [[nodiscard]] VtkHost& host() { return host_; }
    /// REQUIRES: works().
    [[nodiscard]] const QImage& draw();

private:
    void fit_buffer();

    std::unique_ptr<EglContext> egl_;
    VtkHost host_;
    unsigned framebuffer_ = 0, renderbuffer_ = 0;
    QImage image_;
};

} // namespace touchmark::viewport
