// SPDX-License-Identifier: MIT
#include "app/viewport/vtk_host.h"

#include <vtk_glew.h> // before any other OpenGL header

#include <vtkCallbackCommand.h>
#include <vtkCamera.h>
#include <vtkCommand.h>
#include <vtkGenericOpenGLRenderWindow.h>
#include <vtkObjectFactory.h>
#include <vtkOpenGLFramebufferObject.h>
#include <vtkOpenGLState.h>
#include <vtkRenderer.h>

#include <algorithm>

namespace touchmark::viewport {
namespace {

/// Debian's VTK stands on the system's GLEW, which is built for GLX: on an EGL context glewInit() loads every entry
/// point and then fails with code 4 (no GLX display), which VTK takes for fatal. That one result is accepted here.
class GlewTolerantWindow : public vtkGenericOpenGLRenderWindow {
public:
    vtkTypeMacro(GlewTolerantWindow, vtkGenericOpenGLRenderWindow) static GlewTolerantWindow* New();

    void OpenGLInitContext() override {
        constexpr GLenum no_glx_display = 4;
        if (!this->Initialized) {
            glewExperimental = GL_TRUE;
            if (glewInit() == no_glx_display && GLEW_VERSION_3_2) {
                this->ContextCreationTime.Modified();
                this->GlewInitValid = true;
                this->Initialized = true;
                this->MaximumHardwareLineWidth = 1.F;
                return;
            }
        }
        this->Superclass::OpenGLInitContext();
    }
};
vtkStandardNewMacro(GlewTolerantWindow);

} // namespace

VtkHost::VtkHost(Context context)
    : context_(std::move(context)), window_(vtkSmartPointer<GlewTolerantWindow>::New()), mean_(*window_) {
    window_->SetOwnContext(0);
    window_->SetReadyForRendering(false); // until init()
    window_->SetFrameBlitModeToNoBlit();  // render_to() copies
    window_->SetMultiSamples(0);
    window_->SetStencilCapable(1); // openings are made with it
    window_->SetNumberOfLayers(2);
    window_->AddRenderer(base_);
    overlay_->SetLayer(1);
    overlay_->SetPreserveDepthBuffer(true); // layers clear depth otherwise; the part has to hide what is behind it
    overlay_->SetActiveCamera(base_->GetActiveCamera());
    overlay_->InteractiveOff();
    window_->AddRenderer(overlay_);
    callback_->SetClientData(this);
    callback_->SetCallback(&VtkHost::on_window_event);
    for (const auto id : {vtkCommand::WindowMakeCurrentEvent, vtkCommand::WindowIsCurrentEvent,
                          vtkCommand::WindowSupportsOpenGLEvent, vtkCommand::WindowIsDirectEvent})
        window_->AddObserver(id, callback_);
}

VtkHost::~VtkHost() {
    window_->RemoveObserver(callback_);
}

void VtkHost::init() {
    window_->SetReadyForRendering(true);
    window_->SetMapped(1);
    window_->SetSupportsOpenGL(1);
    window_->SetIsDirect(1);
    window_->SetForceMaximumHardwareLineWidth(1.F); // core profile: wider lines go through a geometry shader
    window_->OpenGLInitContext();
}

void VtkHost::release() {
    if (!window_->GetReadyForRendering()) return;
    if (kept_) {
        kept_->ReleaseGraphicsResources(window_);
        kept_ = nullptr;
    }
    base_valid_ = false;
    mean_.release();
    window_->Finalize();
    window_->SetReadyForRendering(false);
}

void VtkHost::resize(int width, int height) {
    width_ = std::max(width, 1);
    height_ = std::max(height, 1);
    forget_base();
    window_->SetSize(width_ * oversampling_, height_ * oversampling_);
    window_->SetScreenSize(width_ * oversampling_, height_ * oversampling_);
}

void VtkHost::set_oversampling(int factor) {
    if (factor == oversampling_) return;
    oversampling_ = factor;
    resize(width_, height_);
}

void VtkHost::set_base_kept(bool kept) {
    keep_ = kept;
    forget_base();
}

void VtkHost::keep_base(int width, int height) {
    vtkOpenGLState* state = window_->GetState();
    const bool overlay_drawn = overlay_->GetDraw() != 0;
    overlay_->DrawOff();
    base_->DrawOn();
    window_->Render();
    overlay_->SetDraw(overlay_drawn);
    if (!kept_) kept_ = vtkSmartPointer<vtkOpenGLFramebufferObject>::New();
    kept_->SetContext(window_);
    kept_->PopulateFramebuffer(width, height, true, 1, VTK_UNSIGNED_CHAR, true, 32, 0,
                               window_->GetStencilCapable() != 0);
    state->PushFramebufferBindings();
    window_->GetRenderFramebuffer()->Bind(GL_READ_FRAMEBUFFER);
    window_->GetRenderFramebuffer()->ActivateReadBuffer(0);
    kept_->Bind(GL_DRAW_FRAMEBUFFER);
    kept_->ActivateDrawBuffer(0);
    state->vtkglViewport(0, 0, width, height);
    state->vtkglScissor(0, 0, width, height);
    glBlitFramebuffer(0, 0, width, height, 0, 0, width, height, GL_COLOR_BUFFER_BIT | GL_DEPTH_BUFFER_BIT, GL_NEAREST);
    state->PopFramebufferBindings();
    base_valid_ = true;
}

void VtkHost::restore_base() {
    vtkOpenGLState* state = window_->GetState();
    state->PushFramebufferBindings();
    kept_->Bind(GL_READ_FRAMEBUFFER);
    kept_->ActivateReadBuffer(0);
    window_->BlitToRenderFramebuffer(true);
    state->PopFramebufferBindings();
}

void VtkHost::draw_beside(Vec2 pixels) {
    vtkCamera* eye = base_->GetActiveCamera();
    eye->SetWindowCenter(2 * pixels.x / window_->GetSize()[0], 2 * pixels.y / window_->GetSize()[1]);
    window_->Render();
    eye->SetWindowCenter(0, 0);
}

/// The kept depth stays that of the middle of the pixels.
void VtkHost::refine_base() {
    overlay_->DrawOff();
    draw_beside(mean_.place_of_next());
    overlay_->DrawOn();
    mean_.add();
    vtkOpenGLState* state = window_->GetState();
    state->PushFramebufferBindings();
    mean_.mean().Bind(GL_READ_FRAMEBUFFER);
    mean_.mean().ActivateReadBuffer(0);
    kept_->Bind(GL_DRAW_FRAMEBUFFER);
    kept_->ActivateDrawBuffer(0);
    const int wide = window_->GetSize()[0], high = window_->GetSize()[1];
    state->vtkglViewport(0, 0, wide, high);
    state->vtkglScissor(0, 0, wide, high);
    glBlitFramebuffer(0, 0, wide, high, 0, 0, wide, high, GL_COLOR_BUFFER_BIT, GL_NEAREST);
    state->PopFramebufferBindings();
}

void VtkHost::render_to(unsigned framebuffer, Rows rows) {
    vtkOpenGLState* state = window_->GetState();
    state->Reset(); // others used OpenGL behind VTK's back
    state->Push();
    const int wide = window_->GetSize()[0], high = window_->GetSize()[1];
    const bool refine = std::exchange(refine_, false);
    if (keep_) {
        if (!base_valid_) keep_base(wide, high);
        if (refine) refine_base();
        restore_base();
        base_->DrawOff();
        window_->Render();
        base_->DrawOn();
    } else if (refine) {
        draw_beside(mean_.place_of_next());
        mean_.add();
    } else if (mean_.count() == 0) {
        window_->Render();
    }
    state->vtkglBindFramebuffer(GL_DRAW_FRAMEBUFFER, framebuffer); // through VTK's cache, never around it
    state->vtkglViewport(0, 0, width_, height_);
    state->vtkglScissor(0, 0, width_, height_);
    const int low = rows == Rows::top_first ? height_ : 0;
    const GLenum filter = oversampling_ > 1 ? GL_LINEAR : GL_NEAREST;
    if (!keep_ && mean_.count() > 0) {
        mean_.mean().Bind(GL_READ_FRAMEBUFFER);
        mean_.mean().ActivateReadBuffer(0);
        glBlitFramebuffer(0, 0, wide, high, 0, low, width_, height_ - low, GL_COLOR_BUFFER_BIT, filter);
    } else {
        window_->BlitDisplayFramebuffer(0, 0, 0, wide, high, 0, low, width_, height_ - 2 * low, GL_COLOR_BUFFER_BIT,
                                        filter);
    }
    state->Pop();
}

void VtkHost::on_window_event(vtkObject*, unsigned long id, void* self, void* data) {
    const Context& context = static_cast<VtkHost*>(self)->context_;
    switch (id) {
    case vtkCommand::WindowMakeCurrentEvent:
        if (!context.is_current()) context.make_current();
        break;
    case vtkCommand::WindowIsCurrentEvent:
        *static_cast<bool*>(data) = context.is_current();
        break;
    default:
        *static_cast<int*>(data) = 1; // supports OpenGL, is direct
    }
}

} // namespace touchmark::viewport
