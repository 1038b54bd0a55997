// SPDX-License-Identifier: MIT
#include "app/panels/figure_ledger.h"

#include "app/panels/look.h"
#include "core/process/figures.h"

#include <QPainter>
#include <QScrollBar>
#include <QStyledItemDelegate>
#include <algorithm>

namespace touchmark::panels {
namespace {

enum Role {
    key_role = Qt::UserRole + 1,
    level_role,
    value_role,
    source_role,
    base_role,
    assumed_role,
    differs_role,
    sourced_role
};

constexpr double ring = 7; // px across

/// A heading, or a figure on two lines: title and value, source and the base's value.
class RowPainter : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;

    [[nodiscard]] QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override {
        const int line = option.fontMetrics.height();
        switch (index.data(level_role).toInt()) {
        case 1:
            return {100, line + 2 * grid};
        case 2:
            return {100, line + grid};
        default:
            return {100, line + small_line(option) + grid};
        }
    }

    void paint(QPainter* painter, const QStyleOptionViewItem& option, const QModelIndex& index) const override {
        const QPalette& colours = option.palette;
        const QRect row = option.rect.adjusted(card_inset, 0, -card_inset, 0);
        painter->save();
        if (const int level = index.data(level_role).toInt(); level > 0) {
            QFont font = option.font;
            font.setWeight(QFont::DemiBold);
            painter->setFont(font);
            painter->setPen(colours.color(QPalette::Active, level == 1 ? QPalette::Text : QPalette::PlaceholderText));
            painter->drawText(row.adjusted(0, 0, 0, -grid / 4), Qt::AlignLeft | Qt::AlignBottom,
                              index.data(Qt::DisplayRole).toString());
        } else {
            paint_figure(*painter, option, index, row);
        }
        painter->restore();
    }

private:
    static int small_line(const QStyleOptionViewItem& option) { return QFontMetrics(small(option.font)).height(); }
    static QFont small(QFont font) {
        font.setPointSizeF(std::max(font.pointSizeF() - 1, 7.0));
        return font;
    }
    static void paint_figure(QPainter& painter, const QStyleOptionViewItem& option, const QModelIndex& index,
                             const QRect& row) {
        const QPalette& colours = option.palette;
        const bool differs = index.data(differs_role).toBool();
        if (option.state & QStyle::State_Selected) {
            painter.fillRect(option.rect, colours.color(QPalette::AlternateBase));
            painter.fillRect(QRect(option.rect.left(), option.rect.top(), 3, option.rect.height()), accent());
        }
        const int line = option.fontMetrics.height(), top = row.top() + grid / 2;
        QFont figures = figures_font(option.font);
        if (differs) figures.setWeight(QFont::Bold);
        painter.setFont(figures);
        painter.setPen(colours.color(QPalette::Text));
        const QString value = index.data(value_role).toString();
        const int value_wide = QFontMetrics(figures).horizontalAdvance(value) + grid;
        painter.drawText(QRect(row.left(), top, row.width(), line), Qt::AlignRight | Qt::AlignVCenter, value);
        painter.setFont(option.font);
        painter.drawText(QRect(row.left(), top, row.width() - value_wide, line), Qt::AlignLeft | Qt::AlignVCenter,
                         option.fontMetrics.elidedText(index.data(Qt::DisplayRole).toString(), Qt::ElideRight,
                                                       row.width() - value_wide));
        const QFont quiet = small(option.font);
        const QFontMetrics metrics(quiet);
        painter.setFont(quiet);
        painter.setPen(colours.color(QPalette::PlaceholderText));
        const QRect below(row.left(), top + line, row.width(), metrics.height());
        const QString base = differs ? index.data(base_role).toString() : QString();
        const int base_wide = base.isEmpty() ? 0 : metrics.horizontalAdvance(base) + 2 * grid;
        painter.drawText(below, Qt::AlignRight | Qt::AlignVCenter, base);
        painter.setRenderHint(QPainter::Antialiasing);
        const QRectF dot(row.left() + 0.5, below.center().y() - ring / 2 + 1, ring, ring);
        painter.setPen(QPen(colours.color(QPalette::PlaceholderText), 1.2));
        painter.setBrush(index.data(assumed_role).toBool() ? QBrush(Qt::NoBrush)
                                                           : QBrush(colours.color(QPalette::PlaceholderText)));
        const bool sourced = index.data(sourced_role).toBool();
        if (sourced) painter.drawEllipse(dot);
        const int indent = sourced ? static_cast<int>(ring) + grid : 0;
        painter.drawText(
            below.adjusted(indent, 0, -base_wide, 0), Qt::AlignLeft | Qt::AlignVCenter,
            metrics.elidedText(index.data(source_role).toString(), Qt::ElideRight, below.width() - indent - base_wide));
    }
};

std::size_t place_of_limit(std::string_view key) {
    const std::string_view name = key.substr(key.find('.') + 1);
    const auto row = std::ranges::find(process::limit_keys, name.substr(0, name.find('.')), &process::LimitKey::key);
    return static_cast<std::size_t>(row - std::begin(process::limit_keys));
}

/// As in the file, but the entries of one limit beside each other.
std::vector<std::string> ordered_keys(const process::Process& process) {
    std::vector<std::string> keys = figure_keys(process);
    const auto limits = std::ranges::find_if(keys, [](const std::string& key) { return key.starts_with("limits."); });
    std::stable_sort(limits, keys.end(),
                     [](const std::string& a, const std::string& b) { return place_of_limit(a) < place_of_limit(b); });
    return keys;
}

QString steps_words(const std::optional<process::Printing>& printing) {
    const std::size_t steps = printing ? printing->wedge.size() : 0;
    return steps == 0 ? QObject::tr("none") : QObject::tr("%1 steps").arg(steps);
}

} // namespace

QString figure_words(double value, std::string_view unit) {
    const QString number = text(process::figure_text(value));
    if (unit == "deg") return number + u'°';
    if (unit.starts_with("1/")) return QObject::tr("%1 per %2").arg(number, text(unit.substr(2)));
    return unit.empty() ? number : number + u' ' + text(unit);
}

QString source_words(const process::Sourced& figure) {
    QString said = text(figure.source);
    const bool says_so = said.startsWith(u"assumed") || said.startsWith(u"simulated") || said.endsWith(u"is assumed");
    if (figure.assumed && !says_so) said = QObject::tr("assumed: %1").arg(said);
    if (!said.isEmpty()) said[0] = said[0].toUpper();
    return said;
}

QString figure_title(std::string_view key) {
    if (key == wedge_key) return QObject::tr("Step wedge");
    const process::FigureWords words = process::words_of(key);
    if (words.group == "Suitability") return text(words.where);
    if (words.sense.empty()) return text(words.what);
    const QString where = words.where.empty() ? QObject::tr("Everywhere else") : text(words.where);
    return where + QStringLiteral(": ") + text(words.sense);
}

FigureLedger::FigureLedger(QWidget* parent) : QListWidget(parent) {
    setAccessibleName(tr("Figures"));
    setItemDelegate(new RowPainter(this));
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setVerticalScrollMode(QAbstractItemView::ScrollPerPixel);
    verticalScrollBar()->setSingleStep(3 * grid);
    connect(this, &QListWidget::currentItemChanged, this, [this](QListWidgetItem* item) {
        if (filling_ || !item) return;
        chosen_ = item->data(key_role).toString().toStdString();
        emit figure_chosen(chosen_);
    });
}

FigureLedger::Row FigureLedger::row_of(std::string_view key, const process::Process& process,
                                       const process::Process* base) const {
    const process::Sourced& figure = *process::figure_of(process, key);
    const std::string unit = process::kind_of(key)->unit;
    const process::FigureWords words = process::words_of(key);
    Row row{.key = std::string(key),
            .group = words.group,
            .part = words.group == "Limits" ? words.what : "",
            .title = figure_title(key),
            .value = figure_words(figure.value, unit),
            .source = source_words(figure),
            .base = {},
            .searched = {},
            .assumed = figure.assumed};
    if (base) {
        const auto was = process::counted(*base, key);
        row.differs = !was || was->value != figure.value || was->source != figure.source;
        row.base = was ? tr("%1 in %2").arg(figure_words(was->value, unit), text(base->id)) : QString();
    }
    row.searched =
        QStringList{text(words.group), text(words.what), row.title, row.value, row.source, text(words.help), text(key)}
            .join(u' ');
    return row;
}

FigureLedger::Row FigureLedger::wedge_row(const process::Process& process, const process::Process* base) const {
    Row row{.key = std::string(wedge_key),
            .group = "Simulated print",
            .part = {},
            .title = figure_title(wedge_key),
            .value = steps_words(process.printing),
            .source = process.printing->wedge.empty()
                          ? tr("What came through a printed step wedge; without one the attenuation counts")
                          : text(process.printing->wedge_source),
            .base = {},
            .searched = tr("Simulated print step wedge light")};
    row.sourced = !process.printing->wedge.empty();
    row.differs = base && base->printing && base->printing->wedge.size() != process.printing->wedge.size();
    if (base) row.base = tr("%1 in %2").arg(steps_words(base->printing), text(base->id));
    return row;
}

void FigureLedger::show_profile(const process::Process& process, const process::Process* base) {
    rows_.clear();
    bool has_wedge = false;
    for (const std::string& key : ordered_keys(process)) {
        if (process.printing && !has_wedge && key.starts_with("zones.")) {
            rows_.push_back(wedge_row(process, base));
            has_wedge = true;
        }
        rows_.push_back(row_of(key, process, base));
    }
    refill();
}

void FigureLedger::narrow(const QString& words, Show show) {
    words_ = words.split(u' ', Qt::SkipEmptyParts);
    show_ = show;
    refill();
}

bool FigureLedger::wanted(const Row& row) const {
    if (show_ == Show::assumed && !row.assumed) return false;
    if (show_ == Show::differing && !row.differs) return false;
    return std::ranges::all_of(words_,
                               [&](const QString& word) { return row.searched.contains(word, Qt::CaseInsensitive); });
}

void FigureLedger::add_heading(const QString& words, int level) {
    auto* item = new QListWidgetItem(words, this);
    item->setData(level_role, level);
    item->setFlags(Qt::NoItemFlags);
}

void FigureLedger::refill() {
    filling_ = true;
    const int scrolled = verticalScrollBar()->value();
    clear();
    std::string group, part;
    QListWidgetItem *again = nullptr, *first = nullptr;
    for (const Row& row : rows_) {
        if (!wanted(row)) continue;
        if (row.group != group) add_heading(text(group = row.group), 1), part.clear();
        if (row.part != part) add_heading(text(part = row.part), 2);
        auto* item = new QListWidgetItem(row.title, this);
        item->setData(key_role, text(row.key));
        item->setData(level_role, 0);
        item->setData(value_role, row.value);
        item->setData(source_role, row.source);
        item->setData(base_role, row.base);
        item->setData(assumed_role, row.assumed);
        item->setData(differs_role, row.differs);
        item->setData(sourced_role, row.sourced);
        item->setData(Qt::AccessibleTextRole, row.title + u' ' + row.value + QStringLiteral(". ") + row.source);
        if (row.key == chosen_) again = item;
        if (!first) first = item;
    }
    if (!first) {
        auto* none = new QListWidgetItem(tr("No figure answers to that"), this);
        none->setData(level_role, 2);
        none->setFlags(Qt::NoItemFlags);
    }
    setCurrentItem(again ? again : first);
    if (again) {
        verticalScrollBar()->setValue(scrolled);
        scrollToItem(again);
    } else {
        scrollToTop();
    }
    filling_ = false;
    chosen_ = currentItem() ? currentItem()->data(key_role).toString().toStdString() : std::string();
    emit figure_chosen(chosen_);
}

std::string FigureLedger::chosen() const {
    return chosen_;
}

void FigureLedger::choose(std::string_view key) {
    for (int i = 0; i < count(); ++i)
        if (item(i)->data(key_role).toString() == text(key)) return setCurrentRow(i);
}

} // namespace touchmark::panels
