// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"

#include <memory>
#include <vtkSmartPointer.h>

class vtkOpenGLFramebufferObject;
class vtkOpenGLQuadHelper;
class vtkOpenGLRenderWindow;

namespace touchmark::viewport {

/// The mean of frames drawn a part of a pixel beside each other: smooth edges for the price of a frame at a time.
class SampleMean {
public:
    static constexpr int enough = 8;

    explicit SampleMean(vtkOpenGLRenderWindow& window);
    ~SampleMean();
    void release(); ///< before the context goes away

    void forget() { count_ = 0; }
    [[nodiscard]] int count() const { return count_; }
    /// Where within its pixel the next frame is to be drawn, pixels from the middle.
    [[nodiscard]] Vec2 place_of_next() const;
    /// Takes the window's frame in.
    void add();
    /// REQUIRES: count() > 0.
    [[nodiscard]] vtkOpenGLFramebufferObject& mean();

private:
    vtkOpenGLRenderWindow& window_;
    vtkSmartPointer<vtkOpenGLFramebufferObject> mean_;
    std::unique_ptr<vtkOpenGLQuadHelper> quad_;
    int count_ = 0;
};

} // namespace touchmark::viewport
