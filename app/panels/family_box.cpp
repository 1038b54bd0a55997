// SPDX-License-Identifier: MIT
#include "app/panels/family_box.h"

#include "app/panels/look.h"
#include "core/base/number_text.h"

#include <QAbstractItemView>
#include <QCompleter>
#include <QKeyEvent>
#include <QLineEdit>
#include <QPainter>
#include <QStandardItemModel>
#include <QStringListModel>
#include <QStyledItemDelegate>

namespace touchmark::panels {
namespace {

constexpr int stroke_role = Qt::UserRole + 1; ///< "0.78 mm"
constexpr int fine_role = Qt::UserRole + 2;   ///< its strokes do not print
constexpr int heading_role = Qt::UserRole + 3;
constexpr std::size_t shortlist_length = 8;
constexpr int list_width = 340;

/// A family's name in its own face, its stroke at the right.
class FaceDelegate : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;

    /// By the list's own font: to ask each face for its size would load them all, which takes seconds.
    [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex&) const override {
        return {list_width, std::max(option.fontMetrics.height() * 3 / 2, 3 * grid) + 2};
    }
    void paint(QPainter* painter, const QStyleOptionViewItem& given, const QModelIndex& index) const override {
        QStyleOptionViewItem option = given;
        initStyleOption(&option, index);
        const QString name = option.text;
        option.text.clear();
        const QWidget* widget = option.widget;
        const QStyle* style = widget ? widget->style() : nullptr;
        if (style) style->drawControl(QStyle::CE_ItemViewItem, &option, painter, widget);
        painter->save();
        const bool on = option.state & QStyle::State_Selected, heading = index.data(heading_role).toBool();
        const QColor ink = option.palette.color(on ? QPalette::HighlightedText : QPalette::Text);
        const QColor quiet = on ? ink : option.palette.color(QPalette::PlaceholderText);
        QRect room = option.rect.adjusted(grid, 0, -grid, 0);
        const QString stroke = index.data(stroke_role).toString();
        QFont small = widget ? small_font(*widget) : option.font;
        if (!stroke.isEmpty()) {
            const bool fine = index.data(fine_role).toBool();
            painter->setFont(small);
            painter->setPen(quiet);
            const QString words = fine ? QObject::tr("%1, too thin").arg(stroke) : stroke;
            painter->drawText(room, Qt::AlignRight | Qt::AlignVCenter, words);
            room.setRight(room.right() - QFontMetrics(small).horizontalAdvance(words) - grid);
        }
        painter->setFont(heading ? small : option.font);
        painter->setPen(heading ? quiet : ink);
        painter->drawText(room, Qt::AlignLeft | Qt::AlignVCenter,
                          painter->fontMetrics().elidedText(name, Qt::ElideRight, room.width()));
        painter->restore();
    }
};

} // namespace

FamilyBox::FamilyBox(const std::vector<std::string>& families, FaceSurvey* survey, QWidget* parent)
    : Combo(parent), families_(families), survey_(survey) {
    setEditable(true);
    setInsertPolicy(QComboBox::NoInsert);
    setMaxVisibleItems(16);
    setItemDelegate(new FaceDelegate(this));
    view()->setMinimumWidth(list_width);
    QStringList names;
    for (const std::string& family : families)
        names << text(family);
    auto* found = new QCompleter(names, this);
    found->setFilterMode(Qt::MatchContains);
    found->setCompletionMode(QCompleter::PopupCompletion);
    found->setCaseSensitivity(Qt::CaseInsensitive);
    setCompleter(found);
    fill();
    connect(this, &QComboBox::activated, this, [this] { take_typed(); });
    connect(found, qOverload<const QString&>(&QCompleter::activated), this, [this](const QString& family) {
        setEditText(family);
        take_typed();
    });
    if (survey_)
        connect(survey_, &FaceSurvey::measured, this, [this] {
            rank();
            if (!view()->isVisible()) return fill();
            for (int row = 0; row < count(); ++row) // no row moves under the hand
                if (!itemData(row, heading_role).toBool()) show_measure(row);
        });
}

void FamilyBox::add_heading(const QString& words) {
    addItem(words);
    setItemData(count() - 1, true, heading_role);
    if (auto* items = qobject_cast<QStandardItemModel*>(model())) items->item(count() - 1)->setFlags(Qt::NoItemFlags);
}

void FamilyBox::add_family(const std::string& family) {
    addItem(text(family));
    setItemData(count() - 1, QFont(text(family), font().pointSize() + 1), Qt::FontRole);
    show_measure(count() - 1);
}

void FamilyBox::show_measure(int row) {
    const auto measure = survey_ ? survey_->measure(itemText(row).toStdString(), demand_.weight) : std::nullopt;
    if (!measure) return;
    const double stroke = measure->stroke * demand_.cap_height_mm;
    setItemData(row, text(text_of(Mm(stroke))), stroke_role);
    setItemData(row, stroke < demand_.least_stroke_mm, fine_role);
    const double from = content::least_cap_height(*measure, demand_.clean_stroke_mm, demand_.clean_gap_mm);
    setItemData(row,
                tr("Strokes from %1 at this size; prints cleanly from a cap height of %2; %3 islands when cut through")
                    .arg(text(text_of(Mm(stroke))), text(text_of(Mm(from))))
                    .arg(measure->islands),
                Qt::ToolTipRole);
}

/// Those that print at the smallest size; a face that goes by two names once.
void FamilyBox::rank() {
    std::vector<std::pair<double, const std::string*>> all;
    for (const std::string& family : families_)
        if (const auto measure = survey_ ? survey_->measure(family, demand_.weight) : std::nullopt)
            all.emplace_back(content::least_cap_height(*measure, demand_.clean_stroke_mm, demand_.clean_gap_mm),
                             &family);
    std::ranges::stable_sort(all, {}, &std::pair<double, const std::string*>::first);
    shortlist_.clear();
    double before = -1;
    for (const auto& [from, family] : all) {
        if (shortlist_.size() < shortlist_length && from != before) shortlist_.push_back(*family);
        before = from;
    }
}

void FamilyBox::fill() {
    const QString typed = currentText();
    const bool modified = lineEdit()->isModified();
    const QSignalBlocker quiet(this);
    clear();
    if (!shortlist_.empty()) {
        add_heading(tr("Suit printing, the best first"));
        for (const std::string& family : shortlist_)
            add_family(family);
        add_heading(tr("All, with their narrowest stroke at %1").arg(text(text_of(Mm(demand_.cap_height_mm)))));
    }
    for (const std::string& family : families_)
        add_family(family);
    setCurrentIndex(findText(family_, Qt::MatchFixedString));
    setEditText(typed);
    lineEdit()->setModified(modified);
}

void FamilyBox::showPopup() {
    if (survey_) survey_->start(demand_.weight);
    rank();
    fill();
    Combo::showPopup();
    if (!shortlist_.empty()) view()->scrollToTop();
}

void FamilyBox::set_demand(const FaceDemand& demand) {
    demand_ = demand;
}

void FamilyBox::set_family(const QString& family) {
    family_ = family;
    if (lineEdit()->hasFocus() && lineEdit()->isModified()) return;
    setCurrentIndex(findText(family, Qt::MatchFixedString));
    setEditText(family);
    lineEdit()->setCursorPosition(0);
}

void FamilyBox::take_typed() {
    int found = findText(currentText().trimmed(), Qt::MatchFixedString);
    if (found >= 0 && itemData(found, heading_role).toBool()) found = -1;
    lineEdit()->setModified(false);
    const QString family = found >= 0 ? itemText(found) : family_;
    setEditText(family);
    if (family == family_) return;
    family_ = family;
    emit chosen(family);
}

void FamilyBox::focusOutEvent(QFocusEvent* event) {
    if (event->reason() != Qt::PopupFocusReason) take_typed();
    Combo::focusOutEvent(event);
}

void FamilyBox::keyPressEvent(QKeyEvent* event) {
    if (event->key() == Qt::Key_Escape && lineEdit()->isModified()) {
        lineEdit()->setModified(false);
        setEditText(family_);
        return;
    }
    Combo::keyPressEvent(event);
}

} // namespace touchmark::panels
