#include "textflag.h"

// func leastAVX2(values *int32, copies *uint8, blocks, n int, lack *uint8, worth *int16, noise *int32) int32
//
// The copies of a block of 32 kinds are taken from what is lacked, not below 0; what is left is
// spread to words, multiplied by worths and summed up in pairs. Four patterns (Y0 to Y3) are summed
// up together. n is a multiple of 4, and at least that.
TEXT ·leastAVX2(SB), NOSPLIT, $0-60
	MOVQ    values+0(FP), DI
	MOVQ    copies+8(FP), SI
	MOVQ    blocks+16(FP), R8
	MOVQ    n+24(FP), CX
	MOVQ    lack+32(FP), R9
	MOVQ    worth+40(FP), R10
	MOVQ    noise+48(FP), R11
	MOVQ    R8, R12
	SHLQ    $5, R12 // bytes of a pattern
	VPXOR   Y15, Y15, Y15
	MOVL    $0x7fffffff, AX
	VMOVD   AX, X14
	VPBROADCASTD X14, X14 // the least so far

four:
	VPXOR   Y0, Y0, Y0
	VPXOR   Y1, Y1, Y1
	VPXOR   Y2, Y2, Y2
	VPXOR   Y3, Y3, Y3
	MOVQ    SI, R13
	MOVQ    R9, AX
	MOVQ    R10, BX
	MOVQ    R8, DX

block:
	VMOVDQU (AX), Y8    // lacked
	VMOVDQU (BX), Y9    // worths of the low halves
	VMOVDQU 32(BX), Y10 // and of the high ones
	MOVQ    R13, R14

	VPSUBUSB (R14), Y8, Y4
	ADDQ     R12, R14
	VPSUBUSB (R14), Y8, Y5
	ADDQ     R12, R14
	VPSUBUSB (R14), Y8, Y6
	ADDQ     R12, R14
	VPSUBUSB (R14), Y8, Y7

	VPUNPCKLBW Y15, Y4, Y11
	VPUNPCKHBW Y15, Y4, Y12
	VPMADDWD Y9, Y11, Y11
	VPMADDWD Y10, Y12, Y12
	VPADDD   Y11, Y0, Y0
	VPADDD   Y12, Y0, Y0
	VPUNPCKLBW Y15, Y5, Y11
	VPUNPCKHBW Y15, Y5, Y12
	VPMADDWD Y9, Y11, Y11
	VPMADDWD Y10, Y12, Y12
	VPADDD   Y11, Y1, Y1
	VPADDD   Y12, Y1, Y1
	VPUNPCKLBW Y15, Y6, Y11
	VPUNPCKHBW Y15, Y6, Y12
	VPMADDWD Y9, Y11, Y11
	VPMADDWD Y10, Y12, Y12
	VPADDD   Y11, Y2, Y2
	VPADDD   Y12, Y2, Y2
	VPUNPCKLBW Y15, Y7, Y11
	VPUNPCKHBW Y15, Y7, Y12
	VPMADDWD Y9, Y11, Y11
	VPMADDWD Y10, Y12, Y12
	VPADDD   Y11, Y3, Y3
	VPADDD   Y12, Y3, Y3

	ADDQ    $32, R13
	ADDQ    $32, AX
	ADDQ    $64, BX
	DECQ    DX
	JNZ     block

	// Across: a word for each pattern.
	VPHADDD Y1, Y0, Y0
	VPHADDD Y3, Y2, Y2
	VPHADDD Y2, Y0, Y0
	VEXTRACTI128 $1, Y0, X1
	VPADDD  X1, X0, X0
	VPADDD  (R11), X0, X0
	VMOVDQU X0, (DI)
	VPMINSD X0, X14, X14
	LEAQ    (SI)(R12*4), SI
	ADDQ    $16, DI
	ADDQ    $16, R11
	SUBQ    $4, CX
	JNZ     four

	VPSHUFD $0x4e, X14, X0
	VPMINSD X0, X14, X14
	VPSHUFD $0xb1, X14, X0
	VPMINSD X0, X14, X14
	VMOVD   X14, AX
	MOVL    AX, ret+56(FP)
	VZEROUPPER
	RET
