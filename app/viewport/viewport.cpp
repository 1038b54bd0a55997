// SPDX-License-Identifier: MIT
#include "app/viewport/viewport.h"

#include "app/viewport/navigation.h"
#include "app/viewport/picking.h"
#include "app/viewport/scene.h"
#include "app/viewport/surface.h"

#include <QMouseEvent>
#include <QPainter>
#include <QTimer>
#include <algorithm>

namespace touchmark::viewport {
namespace {

constexpr int settle_ms = 140;  ///< after the last movement the picture grows smoother
constexpr int refining_ms = 10; ///< between the frames of that, for events to come in

/// What handlers paint, over the picture; the picture is not drawn again for it.
class Glass final : public QWidget {
public:
    Glass(QWidget* parent, std::function<void(QPainter&)> paint) : QWidget(parent), paint_(std::move(paint)) {
        setAttribute(Qt::WA_TransparentForMouseEvents);
        setAttribute(Qt::WA_NoSystemBackground);
    }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        paint_(painter);
    }

private:
    std::function<void(QPainter&)> paint_;
};

bool is_pointer_move(const QEvent& event) {
    return event.type() == QEvent::MouseMove || event.type() == QEvent::HoverMove;
}

} // namespace

struct Viewport::Impl {
    explicit Impl(Viewport& viewport);
    [[nodiscard]] View::Ray part_ray(QPointF at) const;
    [[nodiscard]] Vec3 to_part(Vec3 on_plate) const;
    void paint_handlers(QPainter& painter);
    bool offer(QEvent& event);
    void on_moved();
    void before_frame();
    void after_frame(double ms);
    void settle();
    void refresh(bool base);
    [[nodiscard]] std::vector<bool> kept_meshes() const;

    Viewport& viewport;
    std::unique_ptr<Surface> surface;
    Scene scene;
    Glass* glass = nullptr;
    Picking picking;
    Navigation navigation;
    QTimer settling;
    plate::Meshes shown, picked;
    std::vector<int> host_faces, kept_clear; ///< of what is shown, and of the unmarked part
    plate::Placement placement;
    std::vector<Handler*> handlers;
    Handler* holder = nullptr; ///< took the press and gets what follows first
    double frame_ms = 0;
    bool dragging = false, camera_changed = false, unfitted = true;
};

Viewport::Impl::Impl(Viewport& owner)
    : viewport(owner), surface(make_surface(&owner)), scene(surface->host()),
      navigation(owner, {[this](QPointF at) -> std::optional<Vec3> {
                             const auto hit = viewport.pick(at);
                             if (!hit) return std::nullopt;
                             return placement(hit->point);
                         },
                         [this] { return scene.box(); }, [this] { on_moved(); }}) {
    surface->before_frame = [this] { before_frame(); };
    surface->after_frame = [this](double ms) { after_frame(ms); };
    glass = new Glass(&owner, [this](QPainter& painter) { paint_handlers(painter); });
    glass->raise();
    settling.setSingleShot(true);
    connect(&settling, &QTimer::timeout, &owner, [this] { settle(); });
}

Vec3 Viewport::Impl::to_part(Vec3 on_plate) const {
    return placement.back(on_plate - placement.shift);
}

View::Ray Viewport::Impl::part_ray(QPointF at) const {
    const View::Ray ray = navigation.view().ray(at.x(), at.y());
    return {to_part(ray.from), placement.back(ray.direction)};
}

void Viewport::Impl::paint_handlers(QPainter& painter) {
    for (auto handler = handlers.rbegin(); handler != handlers.rend(); ++handler) { // the newest on top
        painter.save();
        painter.setRenderHint(QPainter::Antialiasing);
        (*handler)->paint(painter);
        painter.restore();
    }
}

/// Of the meshes shown those of faces that are kept clear.
std::vector<bool> Viewport::Impl::kept_meshes() const {
    std::vector<bool> kept;
    for (const int face : host_faces)
        kept.push_back(face >= 0 && std::ranges::find(kept_clear, face) != kept_clear.end());
    return kept;
}

void Viewport::Impl::refresh(bool base) {
    if (base) surface->host().forget_base();
    surface->refresh();
    glass->update();
    settling.start(settle_ms);
}

void Viewport::Impl::on_moved() {
    camera_changed = true;
    refresh(true);
}

/// A frame at a time, so that the hand never waits for more than one.
void Viewport::Impl::settle() {
    if (navigation.dragging() || navigation.flying()) {
        settling.start(settle_ms);
        return;
    }
    if (surface->host().refined()) return;
    surface->host().refine();
    surface->refresh();
}

void Viewport::Impl::before_frame() {
    if (std::exchange(unfitted, false) && !shown.empty()) {
        navigation.jump(navigation.whole(navigation.camera()));
    }
    scene.prepare(navigation.camera(), viewport.devicePixelRatioF());
}

void Viewport::Impl::after_frame(double ms) {
    frame_ms = ms;
    if (!settling.isActive() && !surface->host().refined()) settling.start(refining_ms);
    glass->update();
    if (std::exchange(camera_changed, false)) emit viewport.camera_changed();
    emit viewport.rendered(ms);
}

/// The one who took the press first, then the newest.
bool Viewport::Impl::offer(QEvent& event) {
    if (holder) {
        Handler* held = holder;
        const bool over = event.type() == QEvent::MouseButtonRelease;
        if (over) holder = nullptr;
        if (held->handle(event) || over) return true;
    }
    const auto asked = handlers; // a handler may add or remove some
    for (Handler* handler : asked) {
        if (std::ranges::find(handlers, handler) == handlers.end() || !handler->handle(event)) continue;
        if (event.type() == QEvent::MouseButtonPress) holder = handler;
        return true;
    }
    return false;
}

Viewport::Viewport(QWidget* parent) : QWidget(parent), impl_(std::make_unique<Impl>(*this)) {
    setObjectName(QStringLiteral("viewport"));
    setAccessibleName(tr("The part on its plate"));
    setFocusPolicy(Qt::StrongFocus);
    setMouseTracking(true);
    setAcceptDrops(true);
    setAttribute(Qt::WA_OpaquePaintEvent);
}

// The surface is a child widget that impl_ owns: it goes before ~QWidget sees its children.
Viewport::~Viewport() = default;

void Viewport::set_part(const plate::Meshes& meshes, const std::vector<int>& host_faces,
                        const std::vector<std::optional<Mode>>& made_by) {
    if (std::ranges::find(host_faces, -1) == host_faces.end() && impl_->picked != meshes) {
        impl_->picked = meshes;
        impl_->picking.set_part(meshes, host_faces);
        impl_->unfitted = true;
    }
    if (impl_->shown == meshes) return; // asked for on every frame of a drag
    impl_->shown = meshes;
    impl_->host_faces = host_faces;
    impl_->scene.set_part(meshes, made_by);
    impl_->scene.set_kept_clear(impl_->kept_meshes());
    impl_->on_moved();
}

void Viewport::set_kept_clear(std::vector<int> faces) {
    if (faces == impl_->kept_clear) return;
    impl_->kept_clear = std::move(faces);
    impl_->scene.set_kept_clear(impl_->kept_meshes());
    impl_->on_moved();
}

void Viewport::set_pose(const plate::Placement& placement, double) {
    impl_->placement = placement;
    impl_->scene.set_placement(placement);
    const Camera whole = impl_->navigation.whole(impl_->navigation.camera());
    const Camera& now = impl_->navigation.camera();
    const Box3 box = impl_->scene.box();
    const View view = impl_->navigation.view();
    bool all_seen = !box.empty() && now.distance < whole.distance * 2.5;
    for (int corner = 0; corner < 8 && all_seen; ++corner) {
        const View::Seen seen =
            view.see({(corner & 1) != 0 ? box.low.x : box.high.x, (corner & 2) != 0 ? box.low.y : box.high.y,
                      (corner & 4) != 0 ? box.low.z : box.high.z});
        all_seen = seen.depth > 0 && seen.x > 0 && seen.y > 0 && seen.x < view.width && seen.y < view.height;
    }
    if (!all_seen && !impl_->unfitted) impl_->navigation.fly(whole);
    impl_->on_moved();
}

void Viewport::set_shading(const process::Process& process, std::optional<Mode> mode) {
    impl_->scene.set_shading(process, mode);
    impl_->on_moved();
}

void Viewport::set_marks(std::vector<MarkShape> marks) {
    impl_->scene.set_marks(marks);
    impl_->refresh(false);
}

void Viewport::set_meant_face(const part::FaceMesh& face) {
    impl_->scene.set_meant_face(face);
    impl_->refresh(false);
}

void Viewport::set_dark(bool dark) {
    impl_->scene.set_theme(dark ? Theme::dark : Theme::light);
    impl_->on_moved();
}

void Viewport::set_dragging(bool dragging) {
    if (dragging == impl_->dragging) return;
    impl_->dragging = dragging;
    impl_->surface->host().set_base_kept(dragging);
    impl_->refresh(true);
}

std::optional<Hit> Viewport::pick(QPointF at) const {
    const View::Ray ray = impl_->part_ray(at);
    return impl_->picking.cast(ray.from, ray.direction, 1e6);
}

QPointF Viewport::to_widget(Vec3 point) const {
    const View::Seen seen = impl_->navigation.view().see(impl_->placement(point));
    return {seen.x, seen.y};
}

bool Viewport::visible(Vec3 point) const {
    if (impl_->navigation.view().see(impl_->placement(point)).depth <= 0) return false;
    const Vec3 eye = impl_->to_part(impl_->navigation.camera().eye()), way = point - eye;
    const double far_away = length(way), slack = 0.02 + far_away * 1e-3;
    if (far_away <= slack) return true;
    return !impl_->picking.cast(eye, way * (1 / far_away), far_away - slack);
}

double Viewport::pixels_per_mm(Vec3 at) const {
    return impl_->navigation.view().pixels_per_mm(impl_->placement(at));
}

std::optional<Vec3> Viewport::meet_plane(QPointF at, Vec3 point, Vec3 normal) const {
    const View::Ray ray = impl_->part_ray(at);
    const double slant = dot(ray.direction, normal);
    if (std::abs(slant) < 0.02) return std::nullopt;
    const double along = dot(point - ray.from, normal) / slant;
    if (along <= 0) return std::nullopt;
    return ray.from + ray.direction * along;
}

void Viewport::fit() {
    impl_->navigation.fly(impl_->navigation.whole(impl_->navigation.camera()));
}

void Viewport::fly_to(Vec3 point, Vec3 normal, double extent_mm) {
    Camera to = facing(impl_->navigation.camera(), impl_->placement.direction(normal));
    to.target = impl_->placement(point);
    const View view = impl_->navigation.view();
    const double across = std::max(extent_mm, 0.5) * 3; // mm that the smaller side of the view shows
    to.distance = across * view.height / std::min(view.width, view.height) / (2 * std::tan(Camera::opening / 2));
    impl_->navigation.fly(to);
}

void Viewport::look(Vec3 from_direction, Vec3 up) {
    impl_->navigation.fly(impl_->navigation.whole(facing(impl_->navigation.camera(), from_direction, up)));
}

void Viewport::arrive() {
    impl_->navigation.arrive();
}

void Viewport::add_handler(Handler* handler) {
    impl_->handlers.insert(impl_->handlers.begin(), handler);
    impl_->glass->update();
}

void Viewport::remove_handler(Handler* handler) {
    std::erase(impl_->handlers, handler);
    if (impl_->holder == handler) impl_->holder = nullptr;
    impl_->glass->update();
}

void Viewport::update_overlay() {
    impl_->glass->update();
}

QColor Viewport::accent() const {
    return palette().color(QPalette::Highlight);
}

double Viewport::last_frame_ms() const {
    return impl_->frame_ms;
}

QImage Viewport::grab_image() {
    QImage image = impl_->surface->grab().convertToFormat(QImage::Format_RGB32);
    if (image.isNull()) return image;
    image.setDevicePixelRatio(devicePixelRatioF());
    QPainter painter(&image);
    painter.setFont(font());
    impl_->paint_handlers(painter);
    return image;
}

void Viewport::resizeEvent(QResizeEvent*) {
    impl_->surface->widget().setGeometry(rect());
    impl_->glass->setGeometry(rect());
    impl_->on_moved();
}

bool Viewport::event(QEvent* event) {
    switch (event->type()) {
    case QEvent::MouseButtonPress:
    case QEvent::MouseButtonRelease:
    case QEvent::MouseButtonDblClick:
    case QEvent::MouseMove: {
        const bool camera_first = is_pointer_move(*event) && impl_->navigation.dragging();
        const bool taken = (!camera_first && impl_->offer(*event)) || impl_->navigation.handle(*event);
        if (taken || event->type() != QEvent::MouseMove) event->accept();
        return true;
    }
    case QEvent::Wheel:
    case QEvent::NativeGesture:
    case QEvent::KeyPress:
    case QEvent::KeyRelease:
        if (!impl_->offer(*event) && !impl_->navigation.handle(*event)) break;
        event->accept();
        return true;
    case QEvent::ShortcutOverride:
    case QEvent::InputMethod:
    case QEvent::DragEnter:
    case QEvent::DragMove:
    case QEvent::DragLeave:
    case QEvent::Drop:
    case QEvent::ToolTip:
        if (impl_->offer(*event)) return true;
        if (event->type() != QEvent::ShortcutOverride && event->type() != QEvent::ToolTip) event->ignore();
        break;
    case QEvent::Leave:
    case QEvent::FocusOut:
        impl_->offer(*event);
        break;
    case QEvent::PaletteChange:
        impl_->glass->update();
        break;
    default:
        break;
    }
    return QWidget::event(event);
}

} // namespace touchmark::viewport
