#include "textflag.h"

// func best8AVX2(best *[8]int32, values *int32, cuts *pair, n int)
//
// Two cuts at a time: the lanes of a point are 32 bytes, those of point a at 32 a.
TEXT ·best8AVX2(SB), NOSPLIT, $0-32
	MOVQ    best+0(FP), DI
	MOVQ    values+8(FP), SI
	MOVQ    cuts+16(FP), DX
	MOVQ    n+24(FP), CX
	VMOVDQU (DI), Y0
	VMOVDQA Y0, Y1
	SUBQ    $2, CX
	JL      odd

two:
	MOVL     (DX), AX
	MOVL     4(DX), BX
	MOVL     8(DX), R8
	MOVL     12(DX), R9
	SHLQ     $5, AX
	SHLQ     $5, BX
	SHLQ     $5, R8
	SHLQ     $5, R9
	VMOVDQU  (SI)(AX*1), Y2
	VMOVDQU  (SI)(R8*1), Y3
	VPADDD   (SI)(BX*1), Y2, Y2
	VPADDD   (SI)(R9*1), Y3, Y3
	VPMAXSD  Y2, Y0, Y0
	VPMAXSD  Y3, Y1, Y1
	ADDQ     $16, DX
	SUBQ     $2, CX
	JGE      two

odd:
	ADDQ     $2, CX
	JZ       done
	MOVL     (DX), AX
	MOVL     4(DX), BX
	SHLQ     $5, AX
	SHLQ     $5, BX
	VMOVDQU  (SI)(AX*1), Y2
	VPADDD   (SI)(BX*1), Y2, Y2
	VPMAXSD  Y2, Y0, Y0

done:
	VPMAXSD  Y1, Y0, Y0
	VMOVDQU  Y0, (DI)
	VZEROUPPER
	RET

// func lower8AVX2(losses, values *int32, cuts *pair, n int, whole *[8]int32)
TEXT ·lower8AVX2(SB), NOSPLIT, $0-40
	MOVQ    whole+32(FP), AX
	VMOVDQU (AX), Y0
	MOVQ    losses+0(FP), DI
	MOVQ    values+8(FP), SI
	MOVQ    cuts+16(FP), DX
	MOVQ    n+24(FP), CX

cut:
	MOVL    (DX), AX
	MOVL    4(DX), BX
	SHLQ    $5, AX
	SHLQ    $5, BX
	VPSUBD  (SI)(AX*1), Y0, Y1
	VPSUBD  (SI)(BX*1), Y1, Y1
	VPMINSD (DI)(AX*1), Y1, Y2
	VMOVDQU Y2, (DI)(AX*1)
	VPMINSD (DI)(BX*1), Y1, Y3
	VMOVDQU Y3, (DI)(BX*1)
	ADDQ    $8, DX
	DECQ    CX
	JNZ     cut
	VZEROUPPER
	RET
