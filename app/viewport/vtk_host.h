// SPDX-License-Identifier: MIT
#pragma once

#include "app/viewport/sample_mean.h"

#include <functional>
#include <vtkNew.h>
#include <vtkSmartPointer.h>

class vtkCallbackCommand;
class vtkGenericOpenGLRenderWindow;
class vtkObject;
class vtkOpenGLFramebufferObject;
class vtkRenderer;

namespace touchmark::viewport {

/// VTK's side of a surface, whoever owns the OpenGL context and however the pixels reach the screen. No Qt.
class VtkHost {
public:
    struct Context {
        std::function<void()> make_current;
        std::function<bool()> is_current;
    };
    explicit VtkHost(Context context);
    ~VtkHost();

    /// REQUIRES for these: the context is current.
    void init();
    void release(); ///< before the context goes away
    /// Draws and copies into a framebuffer object, its first row at the bottom (OpenGL) or at the top (images).
    enum class Rows { bottom_first, top_first };
    void render_to(unsigned framebuffer, Rows rows);

    /// In device pixels.
    void resize(int width, int height);
    [[nodiscard]] int width() const { return width_; }
    [[nodiscard]] int height() const { return height_; }
    /// Pixels drawn for one shown, each way.
    void set_oversampling(int factor);
    [[nodiscard]] int oversampling() const { return oversampling_; }
    /// While on, the base is drawn once and kept with its depth; later frames redraw only the overlay on top of it.
    void set_base_kept(bool kept);
    /// The camera or something in the base has changed.
    void forget_base() {
        base_valid_ = false;
        mean_.forget();
    }
    /// Something in the overlay has changed.
    void forget_overlay() {
        if (!keep_) mean_.forget();
    }
    /// The next frame makes the picture smoother (while the base is kept: the base) instead of drawing it anew.
    void refine() { refine_ = true; }
    [[nodiscard]] bool refined() const { return mean_.count() >= SampleMean::enough; }

    [[nodiscard]] vtkRenderer& base() { return *base_; }
    [[nodiscard]] vtkRenderer& overlay() { return *overlay_; } ///< same camera, shares the base's depth

private:
    static void on_window_event(vtkObject*, unsigned long id, void* self, void* data);
    void keep_base(int width, int height);
    void restore_base();
    void refine_base();
    void draw_beside(Vec2 pixels);

    Context context_;
    vtkSmartPointer<vtkGenericOpenGLRenderWindow> window_;
    vtkNew<vtkRenderer> base_, overlay_;
    vtkNew<vtkCallbackCommand> callback_;
    vtkSmartPointer<vtkOpenGLFramebufferObject> kept_;
    SampleMean mean_; ///< of the whole picture; of the base while that is kept
    int width_ = 1, height_ = 1, oversampling_ = 1;
    bool keep_ = false, base_valid_ = false, refine_ = false;
};

} // namespace touchmark::viewport
