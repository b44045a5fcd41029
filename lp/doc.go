// Package lp solves sparse linear programmes and proves its answers.
//
// It is for plans: some thousand columns, a few entries in each, many
// alternative optima, several objectives in strict order. It knows matrices and
// ranges, not what they stand for. It leaves out whole-number columns,
// quadratic costs, warm starts and basic solutions.
//
// # Method
//
// A problem is minimise c·x over row ranges lo <= A x <= up and column ranges.
// Its matrix is scaled by powers of two, then every column is measured from one
// of its sides, every row that is not an equality gets a slack, and free columns
// are split in two halves. That leaves A x = b, x >= 0, x + w = u where there is
// an upper side. Columns with equal sides and rows without content go out first;
// there is no other presolve.
//
// The form is embedded in one that always has an optimum, with multipliers y, z
// of x, v of w, and two numbers tau and kappa (Ye, Todd and Mizuno 1994, Math.
// Oper. Res. 19:53-67; Xu, Hung and Ye 1996, Ann. Oper. Res. 62:151-171):
//
//	A x - b tau = 0,  x + w - u tau = 0,  A'y - v + z - c tau = 0
//	b·y - u·v - c·x - kappa = 0,  all of x z w v tau kappa >= 0
//
// At its optimum either tau > 0 and x/tau, y/tau are optimal, or kappa > 0 and y
// proves that no point is feasible or x that the cost falls for ever.
//
// The interior point method follows the points whose complementary products xz,
// wv and tau kappa are equal, with a predictor, a second-order correction
// (Mehrotra 1992, SIAM J. Optim. 2:575-601) and some corrections towards the
// centre (Gondzio 1996, Comput. Optim. Appl. 6:137-156), of each the share that
// reaches furthest (Colombo and Gondzio 2008, ibid. 41:277-305), all on one
// factor. That is of the normal equations
//
//	M dy = r,  M = A D^-1 A' + delta I,  D = z/x + v/w + rho
//
// with rho = delta = 1e-9, so that dependent rows and split columns do no harm:
// the regularised steps are proximal, and converge to the same point. The rows
// are ordered by approximate mean local fill, the factor is computed by
// supernodes, and each solve is refined by conjugate gradients.
//
// # Two stages
//
// Columns shared by blocks of rows that nothing else joins, such as decisions made
// once for many possible years, fill the factor of M: ten years of a plan cost
// thirty times one. Named in Options.Shared they are set apart. With B for those
// columns and N for M without them, which falls into blocks,
//
//	M^-1 = N^-1 - N^-1 B (D + B'N^-1 B)^-1 B'N^-1
//
// with D of the shared columns. The rows in which B has entries are eliminated
// last in each block; what is left of N there is inverted, and as B is sparse the
// matrix in the middle costs little more than its own factor. In the last
// iterations N leans on shared columns alone and the difference loses most of its
// digits. So N gets a ridge of 1e-11 of what they bring to its diagonal, and the
// formula only preconditions: the conjugate gradients run on M itself, one step a
// solve at first and three to six at the end, and the iterates are those of the
// plain equations. (Without the ridge they end at 1e-4; a quasi-definite block
// beside the matrix did no better.) Blocks are spread over Options.Workers.
//
// Any list is right: columns that join no blocks, or rows of a first decision only,
// are left where they are, and where there are fewer rows with entries of B than
// columns in it the plain equations are used. Stages and Few hand the list on.
//
// # Near problems
//
// A problem with a few sides moved, such as a plan with more of what it runs
// against, is solved in half the iterations or fewer when the answer to the first
// is named in Options.Near: the method then starts from the point on the way to
// that answer where the residuals were a tenth, not from the answer, where what is
// zero has no room to grow (Gondzio 1998, Math. Program. 83:125-143). Where that
// comes to nothing it starts again from scratch. Stages starts its first stage so.
//
// # Proof
//
// Nothing is returned on the method's word. Each answer is carried back to the
// problem as given and checked there:
//
//	optimal     largest breach of a range        <= 1e-7 max(1, largest term of its row)
//	            reduced cost at a missing side   <= 1e-7 (1 + largest cost)
//	            c·x less the bound by y and d    <= 1e-6 (1 + |c·x|)
//	infeasible  y, d = -A'y bound 0 from below by 1; breach of a missing side <= 1e-9
//	unbounded   c·r = -1; A r and r run into no side by more than 1e-9; a feasible point
//	both        1 is more than 1e-9 of the terms it is the sum of, so no rounding
//
// The bound is the sum of every y_i times the row side its sign picks and every
// d_j times the column side its sign picks. An answer that fails is an error
// with the residuals.
//
// # Ties and strict order
//
// The method ends in the middle of the optimal points, where of the multiplier
// and the room of each side one goes to zero and the other does not. Fixing the
// sides whose room goes to zero leaves exactly the optimal face. A second small
// programme on that face, with a generic positive cost, picks a plan that uses few
// of the columns named in Options.Few; Stages minimises the next objective on it. Prices that
// are not unique are those in the middle of their range.
//
// Results repeat exactly on one kind of processor, for any number of workers.
// Processors that fuse a multiplication and an addition give other last digits.
package lp
