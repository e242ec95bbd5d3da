"""What the two reference pages say before their tables."""

JOB_WORDS = """
# The job file

A job file is plain text in TOML: boards, cases, and how they are joined. Start from one of the examples, or
let `storyrod new` write the first one. `storyrod check JOB` lists everything that is wrong with it at once,
each fault with its line.

The smallest useful job is a board and a case:

```toml
[boards.birch18]
kind = "plywood"
thickness = 18

[[cases]]
code = "A"
width = 400
height = 300
depth = 250
```

**Lengths** may be written as `600`, `"600 mm"`, `"60 cm"`, `"590,5"`, `'23 5/8"'`, `"23 5/8 in"` or `"2' 3 1/2"`. A
bare number is in the file's `units`. Anything with a fraction or a unit is text and stands in quotes.

**Money** is a plain number such as `62.50`, in the file's `currency`.

**Tables.** `[boards.birch18]` opens the table of one board; `birch18` is the code by which cases name it.
`[[cases]]` opens one more case. Tables below it, such as `[cases.plinth]`, belong to the case opened last. A
small table may also be written in one line: `plinth = { height = 80, setback = 40 }`.

**The inside** is a tree of openings. An opening is left whole or cut into `rows`, from the top down, or
`columns`, from the left. A row has a `height` and a column a `width`: a clear size, `"2 parts"` of what the
others leave, or nothing for an equal share. A panel divides neighbours unless `parted = false`.

```toml
[cases.inside]
columns = [
    { rows = [
        { height = 140, holds = "drawer" },
        { holds = "drawer" },
    ] },
    { width = "2 parts", holds = "door", loose_shelves = 2 },
]
```

A field that is not known is refused, and the nearest name is offered. Editors that read JSON Schema can check
the file while it is typed: the schema is `src/storyrod/data/schemas/job.schema.json`.
"""

WORKSHOP_WORDS = """
# The workshop file

A workshop file says what you own, what you buy and what your times and prices are. A job names it with `workshop =
"my-workshop.toml"`; the file is next to the job file. What it leaves out is as in the plain
workshop that comes with the package, so that it may be as short as you like.

- *Knowledge* adds to the plain workshop, or takes the place of what has the same key: `methods`, `runners`,
  `hinges`, `clothes_rails`, `feet`, `screws`, `prices`, `times`, and each field of `defaults`, `saw`, `money`,
  `quotation` and `handling`.
- *What is owned* is the whole list once it is written at all: `cutters`, `bushes`, `packers`, `tools`,
  `jigs`, `rack`.

Keys with spaces stand in quotes: `[runners."side light"]`. Lengths, money and tables are written as in the
job file. A share is a percentage in quotes, `"15 %"`; the plain number `0.15` says the same. The fields of a
joining method, `[methods.CODE]`, are explained in [methods.md](methods.md).

The JSON Schema for editors is `src/storyrod/data/schemas/workshop.schema.json`.
"""

AS_BUILT_WORDS = """
# The as-built file

What came out at the bench otherwise than it was planned is kept apart from the job file, in the folder beside it:
`NAME.notes/as-built.toml`. [Rescue](rescue.md) reads it; `storyrod rescue` and the page write it. The job file stays
as it is, so the brief can be made again without any of this.

A slip says what is, with the mark of the panel and the numbers of its cuts as they stand on paper. Only the fields of
its kind may be written:

| `what` | fields |
| --- | --- |
| `size` | `length`, `width`, `thickness`, `out_of_square`: those that were measured |
| `elsewhere` | `cuts`, and `along`, `across` or both |
| `wrong end` | `cuts`: they were measured from the far end in place of the datum end |
| `other face` | `cuts`: they went into the opposite surface |
| `depth`, `width` | `cuts`, and `depth` or `cut_width` |
| `not cut` | `cuts`: they are ticked, and are not there |
| `twice` | `cuts`, and `along`, `across` or both: where the second one is |
| `damage` | `surface`, `from_end`, `from_edge`, `size` |
| `lost` | nothing more |
| `glued` | `joints`, and `off` where the panel stands off its lines |

```toml
units = "mm"
cut = ["A2", "A3.1"]

[[slips]]
panel = "A1"
what = "elsewhere"
cuts = ["J2"]
across = 7
```

A slip that was taken back stays in the file with `taken_back = true`, and counts no more. The JSON Schema for editors
is `src/storyrod/data/schemas/as-built.schema.json`.
"""

STUDY_WORDS = """
# The study file

A study file asks many questions of one job: the same job with other sizes, boards, methods or numbers, each worked
out by the real plan. It lies beside the job file, and `storyrod study STUDY` works it out ([how](study.md)).

```toml
job = "peg-rack.toml"
ask = ["price", "minutes", "sheets", "sag"]

[[vary]]
field = "cases[0].width"
from = 600
to = 900
step = 25

[[vary]]
field = "methods.corner"
values = ["dowels", "screws"]

[only]
sound = true
```

Lengths are written as in the job file, and a bare number is in the job's `units`. Any field of the job can vary,
also one that the file leaves out; a variant that cannot be built is a row with its fault.

The JSON Schema for editors is `src/storyrod/data/schemas/study.schema.json`.
"""

BATCH_WORDS = """
# The batch file

A batch file lists jobs that are made together, each from its own job file. `storyrod batch BATCH` plans them
([how](batch.md)).

```toml
title = "Furniture for the rehearsal room"
paid_by = "area"

[[jobs]]
job = "score-shelves.toml"
mark = "S"

[[jobs]]
job = "low-units.toml"
mark = "W"
own_sheets = true
```

The JSON Schema for editors is `src/storyrod/data/schemas/batch.schema.json`.
"""

WISH_WORDS = """
# The wish file

A wish file says what must go in, where it stands and what it may cost, before there is a single size. `storyrod wish
WISH` proposes cabinets of several kinds that hold it all ([how](wish.md)); `--take` writes one of them as a job file.

```toml
title = "Cupboard for the choir"
board = "birch18"
back_board = "birch6"

[place]
width = 1200
height = 1100
depth = 420

[[things]]
thing = "folder"
count = 14

[[things]]
thing = "hymn-book"
count = 60
reach = "door"

[boards.birch18]
kind = "plywood"
thickness = 18

[boards.birch6]
kind = "plywood"
thickness = 6
```

Things have their sizes from [the catalogue](things.md), or from the wish itself. Lengths, boards, edgings and methods
are written as in the [job file](job-file.md).

The JSON Schema for editors is `src/storyrod/data/schemas/wish.schema.json`.
"""

THINGS_WORDS = """
# Things that a wish may name

Sizes as each is kept, in mm: `width` is what one takes of a shelf or rail. What *stands* is side by side; what *lies*
may lie on one another, up to the number given; what *hangs* is on a rail. Where the source says "common practice" or
"from memory", measure yours and write its sizes in the wish: they stand before the catalogue's.
"""
