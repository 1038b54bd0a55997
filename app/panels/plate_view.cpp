// SPDX-License-Identifier: MIT
#include "app/panels/plate_view.h"

#include "app/panels/look.h"
#include "app/session/counted.h"
#include "core/base/number_text.h"

#include <QApplication>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainter>
#include <QPointer>
#include <QThreadPool>
#include <cmath>

namespace touchmark::panels {
namespace {
constexpr int ruler_width = 88;
constexpr double plate_thickness = 4;
} // namespace

PlateView::PlateView(session::Session& session, QWidget* parent) : QWidget(parent), session_(session) {
    setMouseTracking(true);
    setFocusPolicy(Qt::StrongFocus);
    setAccessibleName(tr("Side view of the part on its plate"));
    setAccessibleDescription(tr("Arrow keys read the layers"));
    setMinimumSize(200, 88);
    setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Expanding);
    connect(&session_, &session::Session::changed, this, &PlateView::on_changed);
}

PlateView::~PlateView() {
    if (asked_) asked_->cancel();
}

void PlateView::on_changed(session::Changes changes) {
    using session::Change;
    if (changes & (Change::part | Change::meshes)) {
        silhouette_ = {};
        layer_.reset();
    }
    if (changes & (Change::part | Change::meshes | Change::job)) ask_for_silhouette();
    if (changes & (Change::part | Change::job | Change::evaluation | Change::selection)) update();
}

void PlateView::ask_for_silhouette() {
    if (asked_) asked_->cancel();
    const auto mine = std::make_shared<Progress>();
    asked_ = mine;
    const int pixels = static_cast<int>(std::ceil(drawing().height() * devicePixelRatioF()));
    const QPointer<PlateView> self(this);
    QThreadPool::globalInstance()->start([self, mine, pixels, meshes = session_.meshes(), pose = session_.job().pose] {
        if (mine->cancelled()) return;
        Silhouette made = silhouette_of(meshes, plate::placement_of(pose, meshes), pixels, *mine);
        QMetaObject::invokeMethod(
            qApp,
            [self, mine, made = std::move(made)] {
                if (!self || mine->cancelled()) return;
                self->silhouette_ = made;
                self->update();
            },
            Qt::QueuedConnection);
    });
}

QRectF PlateView::drawing() const {
    return QRectF(rect()).adjusted(ruler_width, grid, -2 * grid, -plate_thickness - 6);
}

double PlateView::y_of(double height_mm) const {
    const double whole = std::max(silhouette_.height_mm, 1e-3);
    const QRectF room = drawing();
    const double scale = std::min(room.height() / whole, room.width() / std::max(silhouette_.width_mm, 1e-3));
    return room.bottom() - height_mm * scale;
}

int PlateView::layers() const {
    const process::Process& process = session_.process();
    const double rest = silhouette_.height_mm - process.first_layer_mm.value;
    return rest <= 0 ? 1 : 1 + static_cast<int>(std::ceil(rest / process.layer_height_mm.value - 1e-6));
}

double PlateView::top_of_layer(int layer) const {
    const process::Process& process = session_.process();
    return std::min(process.first_layer_mm.value + (layer - 1) * process.layer_height_mm.value, silhouette_.height_mm);
}

void PlateView::read_layer_at(double y) {
    if (silhouette_.height_mm <= 0) return;
    const double scale = (y_of(0) - y_of(silhouette_.height_mm)) / silhouette_.height_mm;
    const double height = (y_of(0) - y) / scale;
    const process::Process& process = session_.process();
    const int layer =
        1 + static_cast<int>(std::ceil((height - process.first_layer_mm.value) / process.layer_height_mm.value - 1e-9));
    layer_ = std::clamp(layer, 1, layers());
    update();
}

void PlateView::mouseMoveEvent(QMouseEvent* event) {
    read_layer_at(event->position().y());
}
void PlateView::mousePressEvent(QMouseEvent* event) {
    read_layer_at(event->position().y());
}

void PlateView::leaveEvent(QEvent*) {
    if (hasFocus()) return;
    layer_.reset();
    update();
}

void PlateView::keyPressEvent(QKeyEvent* event) {
    const int by = event->modifiers() & Qt::ShiftModifier ? 10 : 1;
    if (event->key() == Qt::Key_Up)
        layer_ = std::min(layer_.value_or(0) + by, layers());
    else if (event->key() == Qt::Key_Down)
        layer_ = std::max(layer_.value_or(layers() + 1) - by, 1);
    else if (event->key() == Qt::Key_Escape && layer_)
        layer_.reset();
    else
        return QWidget::keyPressEvent(event);
    if (layer_)
        setAccessibleDescription(
            tr("Layer %1 of %2, %3 mm").arg(*layer_).arg(layers()).arg(text(number_text(top_of_layer(*layer_)))));
    update();
}

void PlateView::resizeEvent(QResizeEvent* event) {
    QWidget::resizeEvent(event);
    if (event->oldSize().height() != event->size().height()) ask_for_silhouette();
}

void PlateView::changeEvent(QEvent* event) {
    QWidget::changeEvent(event);
    if (event->type() == QEvent::PaletteChange) update();
}

std::optional<PlateView::Band> PlateView::band_of(const pipeline::MarkEvaluation& mark, const job::Job& job,
                                                  const plate::Placement& placement) const {
    if (!mark.map || !mark.drawn) return std::nullopt;
    const job::Mark* in_job = job.find(mark.mark);
    if (!in_job) return std::nullopt;
    const geometry::Affine where = surface::placement(in_job->anchor.at, in_job->anchor.turn);
    const Box2& extent = mark.drawn->extent;
    Box3 box;
    for (const double x : {extent.low.x, extent.high.x})
        for (const double y : {extent.low.y, extent.high.y})
            box.add(placement(mark.map->point(where({x, y}))));
    const bool towards_viewer = placement.direction(mark.map->normal(in_job->anchor.at)).y <= 0.01;
    return Band{box.low.z,     box.high.z, box.low.x, box.high.x, text(mark.mark) == session_.selected_mark(),
                towards_viewer};
}

void PlateView::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    if (hasFocus()) {
        painter.setPen(QPen(palette().color(QPalette::Highlight), 2));
        painter.drawRoundedRect(QRectF(rect()).adjusted(1, 1, -1, -1), 4, 4);
    }
    const QRectF room = drawing();
    painter.setPen(Qt::NoPen);
    painter.setBrush(palette().color(QPalette::Mid));
    painter.drawRect(QRectF(ruler_width, room.bottom() + 1, width() - ruler_width - grid, plate_thickness));
    if (silhouette_.coverage.isNull() || !session_.part()) return;
    const double scale = (y_of(0) - y_of(silhouette_.height_mm)) / silhouette_.height_mm;
    const QRectF place(room.left() + (room.width() - silhouette_.width_mm * scale) / 2, y_of(silhouette_.height_mm),
                       silhouette_.width_mm * scale, silhouette_.height_mm * scale);
    QImage shape = silhouette_.coverage.convertToFormat(QImage::Format_ARGB32_Premultiplied);
    QPainter tint(&shape);
    tint.setCompositionMode(QPainter::CompositionMode_SourceIn);
    tint.fillRect(shape.rect(), palette().color(QPalette::Dark));
    tint.end();
    painter.setRenderHint(QPainter::SmoothPixmapTransform);
    painter.drawImage(place, shape);
    paint_marks(painter);
    paint_ruler(painter);
    if (layer_) paint_layer(painter);
}

void PlateView::paint_marks(QPainter& painter) const {
    const auto evaluation = session_.evaluation();
    if (!evaluation) return;
    const QRectF room = drawing();
    const double scale = (y_of(0) - y_of(silhouette_.height_mm)) / silhouette_.height_mm;
    const double left = room.left() + (room.width() - silhouette_.width_mm * scale) / 2;
    for (const auto& mark : evaluation->marks) {
        const auto band = band_of(mark, evaluation->job, evaluation->placement);
        if (!band) continue;
        QRectF box(QPointF(left + (band->left - silhouette_.left_mm) * scale, y_of(band->high)),
                   QPointF(left + (band->right - silhouette_.left_mm) * scale, y_of(band->low)));
        if (box.width() < 3) box.adjust(-1.5, 0, 1.5, 0);
        if (box.height() < 3) box.adjust(0, -1.5, 0, 1.5);
        const QColor ink = palette().color(band->selected ? QPalette::Highlight : QPalette::WindowText);
        painter.setPen(QPen(ink, band->selected ? 2 : 1.2, band->near_side ? Qt::SolidLine : Qt::DotLine));
        painter.setBrush(palette().color(QPalette::Window));
        if (!band->near_side) painter.setBrush(Qt::NoBrush); // on the far side: only its outline shows through
        painter.drawRect(box);
        painter.setPen(QPen(ink, 1));
        painter.drawLine(QPointF(ruler_width - 6, box.center().y()), QPointF(ruler_width, box.center().y()));
    }
}

/// Heights at round millimetres, the total at the top.
void PlateView::paint_ruler(QPainter& painter) const {
    const QColor quiet = palette().color(QPalette::PlaceholderText), ink = palette().color(QPalette::WindowText);
    const double top = y_of(silhouette_.height_mm), bottom = y_of(0);
    painter.setFont(figures_font(small_font(*this)));
    const int line = painter.fontMetrics().height();
    painter.setPen(QPen(quiet, 1));
    painter.drawLine(QPointF(ruler_width - 6, top), QPointF(ruler_width - 6, bottom));
    const double scale = (bottom - top) / silhouette_.height_mm;
    double step = 1;
    for (const double wanted : {1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0}) {
        step = wanted;
        if (step * scale >= 4) break;
    }
    for (double at = 0; at < silhouette_.height_mm; at += step) {
        const bool longer = std::fmod(at / step, 5.0) < 0.5;
        painter.drawLine(QPointF(ruler_width - (longer ? 12 : 9), y_of(at)), QPointF(ruler_width - 6, y_of(at)));
    }
    const QRectF beside(0, top - line / 3.0, ruler_width - 16, line);
    painter.setPen(ink);
    painter.drawText(beside, Qt::AlignRight | Qt::AlignVCenter, text(text_of(Mm(silhouette_.height_mm))));
    painter.setPen(quiet);
    painter.drawText(beside.translated(0, line), Qt::AlignRight | Qt::AlignVCenter,
                     session::counted(layers(), tr("layer"), tr("layers")));
    painter.drawText(QRectF(0, bottom - line, ruler_width - 16, line), Qt::AlignRight | Qt::AlignVCenter,
                     QStringLiteral("0"));
}

void PlateView::paint_layer(QPainter& painter) const {
    const double y = y_of(top_of_layer(*layer_));
    painter.setPen(QPen(palette().color(QPalette::Highlight), 1));
    painter.drawLine(QPointF(ruler_width - 12, y), QPointF(width() - grid, y));
    const QString words =
        tr("Layer %1 of %2, %3 mm").arg(*layer_).arg(layers()).arg(text(number_text(top_of_layer(*layer_))));
    painter.setFont(figures_font(small_font(*this)));
    const double wide = painter.fontMetrics().horizontalAdvance(words) + 2 * grid,
                 high = painter.fontMetrics().height() + 4;
    const QRectF flag(width() - grid - wide, std::clamp(y - high - 2, 0.0, height() - high), wide, high);
    painter.setPen(Qt::NoPen);
    painter.setBrush(palette().color(QPalette::Highlight));
    painter.drawRoundedRect(flag, 4, 4);
    painter.setPen(palette().color(QPalette::HighlightedText));
    painter.drawText(flag, Qt::AlignCenter, words);
}

} // namespace touchmark::panels
