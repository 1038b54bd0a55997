// SPDX-License-Identifier: MIT
#include "app/viewport/sample_mean.h"

#include <vtk_glew.h> // before any other OpenGL header

#include <vtkOpenGLFramebufferObject.h>
#include <vtkOpenGLQuadHelper.h>
#include <vtkOpenGLRenderWindow.h>
#include <vtkOpenGLShaderCache.h>
#include <vtkOpenGLState.h>
#include <vtkShaderProgram.h>
#include <vtkTextureObject.h>

namespace touchmark::viewport {
namespace {

constexpr const char* copy = R"(//VTK::System::Dec
in vec2 texCoord;
uniform sampler2D frame;
//VTK::Output::Dec
void main() {
  gl_FragData[0] = texture(frame, texCoord);
}
)";

/// The Halton sequence: well spread however many of its first are taken.
double halton(int index, int base) {
    double value = 0, share = 1;
    for (; index > 0; index /= base) {
        share /= base;
        value += share * (index % base);
    }
    return value;
}

} // namespace

SampleMean::SampleMean(vtkOpenGLRenderWindow& window) : window_(window) {}

SampleMean::~SampleMean() = default;

void SampleMean::release() {
    quad_.reset();
    if (mean_) mean_->ReleaseGraphicsResources(&window_);
    mean_ = nullptr;
    count_ = 0;
}

vtkOpenGLFramebufferObject& SampleMean::mean() {
    return *mean_;
}

Vec2 SampleMean::place_of_next() const {
    return {halton(count_ + 1, 2) - 0.5, halton(count_ + 1, 3) - 0.5};
}

void SampleMean::add() {
    const int wide = window_.GetSize()[0], high = window_.GetSize()[1];
    vtkOpenGLState* state = window_.GetState();
    vtkTextureObject* frame = window_.GetRenderFramebuffer()->GetColorAttachmentAsTextureObject(0);
    if (!mean_ || mean_->GetLastSize()[0] != wide || mean_->GetLastSize()[1] != high) {
        if (mean_) mean_->ReleaseGraphicsResources(&window_);
        mean_ = vtkSmartPointer<vtkOpenGLFramebufferObject>::New();
        mean_->SetContext(&window_);
        mean_->PopulateFramebuffer(wide, high, true, 1, VTK_FLOAT, false, 0, 0); // bytes would lose the small shares
    }
    if (!quad_) quad_ = std::make_unique<vtkOpenGLQuadHelper>(&window_, nullptr, copy, nullptr);
    state->Push();
    state->PushFramebufferBindings();
    mean_->Bind();
    mean_->ActivateDrawBuffer(0);
    state->vtkglViewport(0, 0, wide, high);
    state->vtkglScissor(0, 0, wide, high);
    state->vtkglDisable(GL_DEPTH_TEST);
    state->vtkglEnable(GL_BLEND);
    state->vtkglBlendFunc(GL_CONSTANT_ALPHA, GL_ONE_MINUS_CONSTANT_ALPHA);
    glBlendColor(0, 0, 0, 1.0F / static_cast<float>(++count_));
    window_.GetShaderCache()->ReadyShaderProgram(quad_->Program);
    frame->Activate();
    quad_->Program->SetUniformi("frame", frame->GetTextureUnit());
    quad_->Render();
    frame->Deactivate();
    state->PopFramebufferBindings();
    state->Pop();
}

} // namespace touchmark::viewport
