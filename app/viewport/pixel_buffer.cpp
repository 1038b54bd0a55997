// SPDX-License-Identifier: MIT
#include "app/viewport/pixel_buffer.h"

#include <vtk_glew.h>

namespace touchmark::viewport {

PixelBuffer::PixelBuffer()
    : egl_(EglContext::create()),
      host_({[this] { egl_->make_current(); }, [this] { return egl_ && egl_->is_current(); }}) {
    if (!egl_) return;
    egl_->make_current();
    host_.init();
    egl_->done_current();
}

PixelBuffer::~PixelBuffer() {
    if (!egl_) return;
    egl_->make_current();
    host_.release();
    if (framebuffer_ != 0) {
        glDeleteFramebuffers(1, &framebuffer_);
        glDeleteRenderbuffers(1, &renderbuffer_);
    }
    egl_->done_current();
}

void PixelBuffer::fit_buffer() {
    const QSize size(host_.width(), host_.height());
    if (image_.size() == size) return;
    if (framebuffer_ == 0) {
        glGenFramebuffers(1, &framebuffer_);
        glGenRenderbuffers(1, &renderbuffer_);
    }
    glBindFramebuffer(GL_FRAMEBUFFER, framebuffer_);
    glBindRenderbuffer(GL_RENDERBUFFER, renderbuffer_);
    glRenderbufferStorage(GL_RENDERBUFFER, GL_RGBA8, size.width(), size.height());
    glFramebufferRenderbuffer(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_RENDERBUFFER, renderbuffer_);
    image_ = QImage(size, QImage::Format_RGB32);
}

const QImage& PixelBuffer::draw() {
    egl_->make_current();
    fit_buffer();
    host_.render_to(framebuffer_, VtkHost::Rows::top_first);
    glBindFramebuffer(GL_READ_FRAMEBUFFER, framebuffer_);
    glPixelStorei(GL_PACK_ALIGNMENT, 4);
    glPixelStorei(GL_PACK_ROW_LENGTH, 0);
    glReadPixels(0, 0, image_.width(), image_.height(), GL_BGRA, GL_UNSIGNED_INT_8_8_8_8_REV, image_.bits());
    egl_->done_current();
    return image_;
}

} // namespace touchmark::viewport
