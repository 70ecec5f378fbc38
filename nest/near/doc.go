// Package near finds near misses: single changes of a job that save board.
//
//	jobfile.Model, way to cut -> changes -> kerf.Build -> nest/choose -> Report
//
// A change is one decision of the maker: a size in plain figures made smaller, with all
// that follows from it; a thinner kerf or bit; less trim on one edge of a kind of sheet;
// the grain of a panel freed; a panel joined from two pieces. Each has amounts, from the
// smallest on: millimetres, or copies of a panel.
//
// # Search
//
//  1. The job itself is planned, a kind of board at a time, with some seeds.
//  2. Of each change the largest amount is looked at first. Boards whose problem it leaves
//     as it was are not planned again. When the bound of the others says that no plan
//     saves enough, the change is out, which is proved. Else it is planned once; what
//     saves nothing then is out as well, which is not proved.
//  3. The smallest amount that saves is found by bisection, each amount planned with the
//     same seeds and rounds as the job until it saves enough. A plan for an amount is one
//     for every larger amount, as panels get smaller, so bisection is right for what can
//     be reached; what a search finds need not be so, and the amount is called the least
//     only where the bound rules the next smaller one out. Where a larger amount saves
//     more, the smallest that saves so much is a suggestion of its own.
//  4. So that luck is not taken for a saving, the job itself is planned again until it has
//     had as many plans as any suggestion; what does not save on the best of them is
//     dropped.
//
// Every plan goes through the judge. A size must read without a mistake and without a
// warning that the job as written does not have: openings keep inside their panels, and
// components have their room as far as the job says.
//
// # Rank
//
// Suggestions are ranked by what they save for their weight ([Change.Weight]), in
// millimetres: of a size or a trim its amount, of the others what we hold them worth.
//
// What counts is the price of the board bought; where some board of the job has no price,
// its area. Edge bands that get shorter are not counted.
//
// Cost: plans, at most as many as [Settings] allows. The same job, seed and rounds give the
// same report on every machine. Ours; no source.
package near
