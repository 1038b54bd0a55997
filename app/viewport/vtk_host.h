// SPDX-License-Identifier: MIT
#pragma once

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
    /// Pixels drawn for one shown, each way: 1 while things move, 2 when still.
    void set_oversampling(int factor);
    [[nodiscard]] int oversampling() const { return oversampling_; }
    /// While on, the base is drawn once and kept with its depth; later frames redraw only the overlay on top of it.
    void set_base_kept(bool kept);
    /// The camera or something in the base has changed.
    void forget_base() { base_valid_ = false; }

    [[nodiscard]] vtkRenderer& base() { return *base_; }
    [[nodiscard]] vtkRenderer& overlay() { return *overlay_; } ///< same camera, shares the base's depth

private:
    static void on_window_event(vtkObject*, unsigned long id, void* self, void* data);
    void keep_base(int width, int height);
    void restore_base();

    Context context_;
    vtkSmartPointer<vtkGenericOpenGLRenderWindow> window_;
    vtkNew<vtkRenderer> base_, overlay_;
    vtkNew<vtkCallbackCommand> callback_;
    vtkSmartPointer<vtkOpenGLFramebufferObject> kept_;
    int width_ = 1, height_ = 1, oversampling_ = 1;
    bool keep_ = false, base_valid_ = false;
};

} // namespace touchmark::viewport
