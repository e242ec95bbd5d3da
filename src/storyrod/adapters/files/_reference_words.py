"""What the two reference pages say before their tables."""

JOB_WORDS = """
# The job file

A job file is plain text in TOML: boards, cases, and how they are joined. Start from one of the examples, or
let `storyrod new` write the first one. `storyrod check JOB` tells everything that is wrong with it at once,
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
others leave, or nothing for an equal share. Neighbours are parted by a panel unless `parted = false`.

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

A workshop file says what is owned, bought and reckoned with. A job names it with `workshop =
"my-workshop.toml"`; the file is looked for beside the job file. What it leaves out is as in the plain
workshop that comes with the package, so that it may be as short as you like.

- *Knowledge* adds to the plain workshop, or takes the place of what has the same key: `methods`, `runners`,
  `hinges`, `screws`, `prices`, `times`, and each field of `defaults`, `saw`, `money`,
  `quotation` and `handling`.
- *What is owned* is the whole list once it is written at all: `cutters`, `bushes`, `packers`, `tools`,
  `jigs`, `rack`.

Keys with spaces stand in quotes: `[runners."side light"]`. Lengths, money and tables are written as in the
job file. A share is a percentage in quotes, `"15 %"`; the plain number `0.15` says the same. The fields of a
joining method, `[methods.CODE]`, are told in [methods.md](methods.md).

The JSON Schema for editors is `src/storyrod/data/schemas/workshop.schema.json`.
"""
