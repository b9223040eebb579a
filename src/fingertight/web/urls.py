"""The whole site on one screen."""

from django.urls import path, re_path

from fingertight.web.pages import assets, exercise, paper, refusals, sums
from fingertight.web.pages.film import folder, moves, seen
from fingertight.web.pages.job import bench, log, loose, measure, part, turn
from fingertight.web.pages.lesson import classes, lesson, prints, tools
from fingertight.web.pages.people import join, people, student, teach
from fingertight.web.pages.record import asked, film, photos, recording, strips
from fingertight.web.pages.workshop import edit, front, machine, orders, wall
from fingertight.web.pages.workshop.change import library, versions

urlpatterns = [
    path("", front.front, name="front"),
    path("join", join.join, name="join"),
    path("join/<slug:code>", join.join_as, name="join-as"),
    path("badge/<str:token>", join.badge, name="badge"),
    path("hands", join.hands, name="hands"),
    path("leave", join.leaving, name="leave"),
    path("teach", teach.teach, name="teach"),
    path("teach/<str:token>", teach.first_link, name="first-link"),
    path("number", teach.number, name="number"),
    path("people", people.teachers, name="people"),
    path("mine", student.mine, name="mine"),
    path("student/<slug:person_id>", student.student, name="student"),
    path("class/new", classes.new, name="class-new"),
    path("class/<slug:class_slug>", classes.one, name="class"),
    path("class/<slug:class_slug>/cards.pdf", prints.cards, name="class-cards"),
    path("class/<slug:class_slug>/badges.pdf", prints.badges, name="class-badges"),
    path("class/<slug:class_slug>/lesson", lesson.lesson, name="lesson"),
    path("tools", tools.tools, name="tools"),
    path("tools/<slug:slug>", tools.at_bench, name="bench-tools"),
    path("wall", wall.wall, name="wall"),
    path("wall/count", wall.count, name="count"),
    path("wall/hand-over.pdf", wall.handover, name="hand-over"),
    path("record", recording.begin, name="record"),
    path("record/<slug:slug>", recording.recorded, name="recorded"),
    path("record/<slug:slug>/film", film.film, name="film"),
    re_path(r"^record/(?P<slug>[-\w]+)/(?P<name>chapters\.(?:vtt|txt))$", film.chapters, name="chapters"),
    path("record/<slug:slug>/questions", asked.questions, name="questions"),
    path("record/<slug:slug>/ticks", asked.ticks, name="ticks"),
    path("record/<slug:slug>/strips", strips.strips, name="strips"),
    re_path(r"^photo/(?P<photo_id>[0-9a-f]{64})(?P<small>-small)?\.jpg$", photos.photo, name="photo"),
    path("films", folder.films, name="films"),
    path("films/<str:name>", folder.film, name="film-file"),
    path("film/<slug:slug>", seen.seen, name="see-it-done"),
    path("start/<slug:slug>", front.start, name="start"),
    path("job/new", front.read_in, name="read-in"),
    path("bench/<slug:slug>", bench.bench, name="bench"),
    path("bench/<slug:slug>/<slug:stage>", bench.bench, name="stage"),
    path("part/<slug:slug>/<slug:part_id>", part.part, name="part"),
    path("measure/<slug:slug>/sheet.pdf", measure.sheet, name="measuring-sheet"),
    path("measure/<slug:slug>/<slug:check_id>", measure.measure, name="measure"),
    path("tighten/<slug:slug>/<slug:part_id>/<int:number>", turn.turn, name="turn"),
    path("loose/<slug:slug>", loose.loose, name="loose"),
    path("log/<slug:slug>", log.log, name="log"),
    re_path(r"^log/(?P<slug>[-\w]+)/(?P<name>job\.zip|log\.jsonl|anatomy\.toml)$", log.taken_along, name="taken-along"),
    path("machine/<slug:slug>", machine.machine, name="machine"),
    path("machine/<slug:slug>/anatomy.toml", machine.text, name="anatomy"),
    path("machine/<slug:slug>/labels.pdf", machine.labels, name="labels"),
    path("machine/<slug:slug>/tightening.pdf", machine.tightening, name="tightening"),
    path("machine/<slug:slug>/part/<slug:part_id>", edit.edit, name="edit-part"),
    path("machine/<slug:slug>/versions", versions.versions, name="versions"),
    path("machine/<slug:slug>/library", library.library, name="library"),
    path("machine/<slug:slug>/library/<slug:name>", library.copy, name="copy"),
    path("machine/<slug:slug>/film", moves.moves, name="film-moves"),
    path("machine/<slug:slug>/part/<slug:part_id>/more", edit.more, name="edit-more"),
    path("machine/<slug:slug>/part/<slug:part_id>/<slug:listed>/<slug:entry>", edit.entry, name="edit-entry"),
    path("machine/<slug:slug>/change", edit.lists, name="change"),
    path("machine/<slug:slug>/change/<slug:kind>/<slug:name>", edit.table, name="edit-table"),
    path("machine/<slug:slug>/add/<slug:kind>", edit.add, name="add-table"),
    path("machine/<slug:slug>/out/<slug:kind>/<slug:name>", edit.out, name="out-table"),
    path("machine/<slug:slug>/order", orders.order, name="order"),
    path("machine/<slug:slug>/own", orders.own, name="own-order"),
    path("machine/<slug:slug>/within", orders.within, name="within"),
    path("machine/<slug:slug>/layout", orders.layout, name="layout"),
    path("machine/<slug:slug>/layout.pdf", orders.layout_sheet, name="layout-sheet"),
    path("machine/<slug:slug>/line", machine.line, name="line"),
    path("machine/<slug:slug>/printer", machine.printer, name="printer"),
    path("sums", sums.sums, name="sums"),
    path("sums/<slug:sum_name>", sums.one, name="sum"),
    path("exercise", exercise.exercises, name="exercises"),
    path("exercise/record", exercise.record, name="exercise-record"),
    re_path(r"^exercise/(?P<name>[a-z0-9.-]+)$", exercise.exercise, name="exercise"),
    path("paper/<slug:name>", paper.paper, name="paper"),
    path("paper/<slug:name>.pdf", paper.printed, name="printed"),
    path("instrument", exercise.instrument, name="instrument"),
    path("static/<slug:version>/<path:name>", assets.asset, name="asset"),
]

handler400 = refusals.bad_request
handler403 = refusals.forbidden
handler404 = refusals.not_found
handler500 = refusals.broken
